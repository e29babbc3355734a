"""What the pictures for a listing are called."""

SHEET = "sheet.png"


def picture_name(piece: str) -> str:
    """The file of a piece's picture: one that is called as the sheet's picture says that it is a piece."""
    return f"{piece}.piece.png" if f"{piece.lower()}.png" == SHEET else f"{piece}.png"
