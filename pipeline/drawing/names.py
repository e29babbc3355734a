"""What papers are called on pages, and the pictures for a listing in their folder."""

PAPER_NAMES = {
    "a4": "A4",
    "letter": "Letter",
    "a4-letter": "A4 / Letter",
    "a0": "A0",
    "roll-24in": "24 in",
    "roll-36in": "36 in",
    "roll-42in": "42 in",
}
"""What papers are called on paper, in every language."""

SHEET = "sheet.png"


def picture_name(piece: str) -> str:
    """The file of a piece's picture: one that is called as the sheet's picture says that it is a piece."""
    return f"{piece}.piece.png" if f"{piece.lower()}.png" == SHEET else f"{piece}.png"
