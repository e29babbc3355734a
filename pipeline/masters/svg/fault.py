"""A fault of a master, on its way to becoming a finding."""


class SvgFault(Exception):  # noqa: N818 - the designer's fault, told as a finding, never shown as an error
    """What is wrong with an object: a stable code, what was found and allowed, and what to do."""

    def __init__(self, code: str, message: str, remedy: str, found: str = "", allowed: str = "") -> None:
        super().__init__(message)
        self.code, self.message, self.remedy = code, message, remedy
        self.found, self.allowed = found, allowed


def excerpt(text: str, most: int = 80) -> str:
    """The text, or its beginning where it is long, without control characters."""
    shown = "".join(c if c.isprintable() else " " for c in text[:most])
    return shown if len(text) <= most else f"{shown}…"
