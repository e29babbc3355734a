"""Strips that are tied: longer than what they go round, by their ends."""

import re

from pipeline.model.pattern import Strip

_TIED = re.compile(
    r"(waist|tie)?belts?|sash(es)?|ties?|ribbons?|bows?|bowties?"
    r"|\w*g(ü|ue)rtel|\w*sch(ä|ae)rpen?|\w*schleifen?|schleifenband|binde(band|bänder|baender)"
    r"|ceintures?|liens?|rubans?|n(œ|oe)uds?"
    r"|cintur(ó|o)n(es)?|faj(a|ín)|fajines|lazos?|lazadas?|cintas?"
    r"|\w*ceintuur|ceinturen|\w*riem(en)?|\w*sjerp(en)?|\w*strik(ken)?|\w*lint(en)?|(strik|bind)band(en)?"
    r"|\w*sk(ä|ae)rp|\w*bälten?|knytband|\w*rosett(er)?|\w*snodd(ar)?"
)
_NOT_TIED = re.compile(
    r"\w*loops?|carriers?|\w*casings?|\w*tunnels?|\w*bands?|\w*schlaufen?|\w*bund|passants?|coulisses?|trabillas?"
    r"|pretinas?|cinturillas?|jaretas?|\w*lus(sen)?|tailleband|\w*h(ä|ae)llor|\w*hälla|linning"
)
"""What holds a belt, and waistbands, which some languages call as they call a belt."""


def is_tied(strip: Strip) -> bool:
    """Whether a strip is a cord, or called a belt, sash, tie, ribbon or bow in one of six languages (from memory)."""
    said = [word for text in (strip.name, *strip.title.values()) for word in re.findall(r"[^\W_]+", text.casefold())]
    called = any(map(_TIED.fullmatch, said)) and not any(map(_is_other, said))
    return called or strip.cord is True


def _is_other(word: str) -> bool:
    return _NOT_TIED.fullmatch(word) is not None and _TIED.fullmatch(word) is None
