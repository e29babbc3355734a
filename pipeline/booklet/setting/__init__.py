"""Typesetting: a document's values and pictures into tagged PDF. Only here is typst known."""
