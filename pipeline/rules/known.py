"""What earlier runs found out of files that are still the same, so that a run with nothing to do has little to do."""

import hashlib
from pathlib import Path

from pipeline.ledger.book import Ledger, edited, read_ledger
from pipeline.masters.source_file import FileFault
from pipeline.work.cache import Answers
from pipeline.work.code import code_digest, program_digest
from pipeline.work.receipts import OF_RUN


class Known:
    """Digests of code, and that ledgers are as they were sealed, kept in the work folder."""

    def __init__(self, work: Path) -> None:
        self.answers = Answers(work / OF_RUN / "known", "pipeline.work.code")
        self.program = program_digest()

    def code_digest(self, module: str) -> str:
        """`code_digest` of a module of ours."""
        return self.answers.value_of(["code", self.program, module], lambda: code_digest(module), str)

    def read_ledger(self, folder: Path) -> Ledger | FileFault:
        """`read_ledger` of a pattern's folder."""
        return read_ledger(folder, self._edited)

    def _edited(self, ledger: Ledger, data: bytes) -> FileFault | None:
        asked = ["ledger", self.code_digest(edited.__module__), hashlib.sha256(data).hexdigest()]
        return self.answers.value_of(asked, lambda: edited(ledger), FileFault | None)

    def save(self) -> None:
        """Keep what this run asked for."""
        self.answers.save()
