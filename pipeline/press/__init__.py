"""From scenes to PDF: layers, tiles, large sheets, projector files, page labels, previews."""
