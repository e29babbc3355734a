"""Throwaway keys for tests of signatures, made by OpenSSH itself."""

import shutil
import subprocess
from pathlib import Path

import pytest

needs_openssh = pytest.mark.skipif(
    shutil.which("ssh-keygen") is None, reason="ssh-keygen is not there: Debian has it in openssh-client"
)


def throwaway(folder: Path, name: str, passphrase: str = "") -> str:
    """A new private key in a folder; the line of its public one."""
    words = ["-q", "-t", "ed25519", "-N", passphrase, "-C", "somebody@some-computer", "-f", str(folder / name)]
    subprocess.run(["ssh-keygen", *words], check=True)
    return " ".join((folder / f"{name}.pub").read_text(encoding="ascii").split(" ")[:2])
