"""What the name of a piece says of it, in the languages that the pipeline has words in (from memory)."""

import re

_FRONT = re.compile(r"front|fronts|vorder.*|vorn|devant|delantero|voor.*|fram.*")
_BACK = re.compile(r"back|backs|hinter.*|ruecken.*|dos|espalda|trasero|achter.*|bak.*")
_LAYER = re.compile(
    r"facing|lining|inner|inside|outer|outside|bag|bearer|flap|fusing|interfacing|interlining"
    r"|besatz|beleg|futter.*|.*futter|innen.*|aussen.*|.*beutel|einlage|patte"
    r"|parementure|doublure|interieur|exterieur|sac|vista|forro|interior|exterior|bolsa"
    r"|voering|binnen.*|buiten.*|zak|infodring|foder|inre|yttre"
)
_OF_TWO = re.compile(r"under|upper|top|unter.*|ober.*|dessous|dessus|inferior|superior|onder.*|boven.*|undre|oevre")
"""Of a collar or flap these are layers; of a front or back they are parts of it that lie above each other."""
_FACING = re.compile(r"facing|besatz|beleg|parementure|vista|infodring")
_LEGS = re.compile(r"skirt|leg|shorts|trouser|trousers|pants|rock|hose|.*hose|jupe|pantalon|falda|rok|broek|kjol|byxa")
_TROUSERS = re.compile(
    r"leg|legs|shorts|trouser|trousers|pants|joggers?|leggings|culottes?|hose|hosen|.*hose|pantalon|pantalons"
    r"|pantalones|bermudas?|broek|.*broek|byxa|byxor|.*byxa|.*byxor"
)
_BELOW = re.compile(
    r"skirt|rock|jupe|falda|rok|kjol|(?!waist|neck|head).*band|cuff|cuffs|buendchen|poignet|puno|boord|mudd|ruffle|flounce"
)
_SMALL = re.compile(
    r".*pocket|.*tasche|yoke|passe|koller|poche|empiecement|bolsillo|canesu|pas|schouderstuk|ficka|ok|fly|tab|.*band|belt|welt"
    r"|guertel|leiste|paspel|ceinture|cinturon|riem|skaerp"
)
_TWINS = ("left", "right", "links", "rechts", "linker", "rechter", "gauche", "droit", "droite", "izquierdo", "derecho")
_VERSIONS = re.compile(r"[a-f]|\d|long|short|mini|midi|maxi|lang|kurz|long|court|largo|corto|kort")


def words_of(piece: str) -> tuple[str, ...]:
    """The words of a piece's name."""
    return tuple(piece.casefold().replace("_", "-").split("-"))


def is_front(piece: str) -> bool:
    """Whether it is called a front, and no back."""
    return _says(_FRONT, piece) and not _says(_BACK, piece)


def is_back(piece: str) -> bool:
    """Whether it is called a back, and no front."""
    return _says(_BACK, piece) and not _says(_FRONT, piece)


def is_layer(piece: str) -> bool:
    """Whether it is called what lies on another piece, all round perhaps: a facing, a lining, an under collar."""
    return _says(_LAYER, piece) or (_says(_OF_TWO, piece) and not (_says(_FRONT, piece) or _says(_BACK, piece)))


def is_facing(piece: str) -> bool:
    """Whether it is called a facing."""
    return _says(_FACING, piece)


def is_of_legs(piece: str) -> bool:
    """Whether it is called a skirt or trousers, whose upper edge is the waist."""
    return _says(_LEGS, piece)


def is_of_trousers(name: str) -> bool:
    """Whether the name of a piece, drawing or garment says that it has two legs. "Short" tells versions apart."""
    return _says(_TROUSERS, name)


def is_below(piece: str) -> bool:
    """Whether it is called what is sewn to the lower edge of another piece."""
    return _says(_BELOW, piece)


def is_small(piece: str) -> bool:
    """Whether it is called a part that has no hem, waist or neck of its own: a pocket, a yoke, a band."""
    return _says(_SMALL, piece)


def family(piece: str) -> tuple[str, ...]:
    """The name without what tells versions of a piece apart: of "long-sleeve" and "short-sleeve", "sleeve"."""
    return tuple(word for word in words_of(piece) if not _VERSIONS.fullmatch(word))


def version(piece: str) -> tuple[str, ...]:
    """What tells a piece apart from its versions."""
    return tuple(word for word in words_of(piece) if _VERSIONS.fullmatch(word))


def are_twins(one: str, other: str) -> bool:
    """Whether two pieces are a left and a right that are called alike else."""
    ones, others = ([word for word in words_of(piece) if word not in _TWINS] for piece in (one, other))
    return one != other and ones == others and len(ones) < len(words_of(one))


def _says(meant: re.Pattern[str], piece: str) -> bool:
    return any(map(meant.fullmatch, words_of(piece)))
