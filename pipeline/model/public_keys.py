"""Public keys of OpenSSH, a line each: a kind, and a blob in base64 that begins with it again (RFC 4253, 6.6)."""

import base64
import binascii
import hashlib
import re

_KINDS = r"ssh-(ed25519|rsa)|ecdsa-sha2-nistp(256|384|521)|sk-(ssh-ed25519|ecdsa-sha2-nistp256)@openssh\.com"
KEY_PATTERN = rf"^({_KINDS}) [A-Za-z0-9+/]{{60,1400}}={{0,2}}( .*)?$"
KEY_HINT = 'the line of a public key, as "ssh-ed25519 AAAA…"'


def public_key(line: str) -> str | None:
    """A key's line without its comment, which names a person and a computer; None where it was not copied whole."""
    if re.fullmatch(KEY_PATTERN, line) is None:
        return None
    kind, text, *_ = line.split(" ")
    try:
        blob = base64.b64decode(text, validate=True)
    except binascii.Error:
        return None
    fields, rest = [], blob
    while len(rest) >= 4 and len(rest) >= 4 + (length := int.from_bytes(rest[:4], "big")):
        fields.append(rest[4 : 4 + length])
        rest = rest[4 + length :]
    return f"{kind} {text}" if not rest and len(fields) > 1 and fields[0] == kind.encode() else None


def fingerprint(key: str) -> str:
    """What OpenSSH calls a key: the SHA-256 of its blob in base64 without filling."""
    blob = base64.b64decode(key.split(" ")[1])
    return f"SHA256:{base64.b64encode(hashlib.sha256(blob).digest()).decode().rstrip('=')}"
