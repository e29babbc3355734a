"""How a job runs: `python -m pipeline.steps [--depends …] --log FILE --inputs … --outputs … -- STEP --name value …`.

A job that depends on the same code, settings and inputs as the last one of its name takes that one's files back and
does nothing. Else the step is imported and called, and a receipt says what its files were made of.
"""

import signal
import sys
from pathlib import Path

from pipeline.work.locks import OverError, join_run
from pipeline.work.receipts import hashes, job_of, write_receipt
from pipeline.work.stale import restore


def main(words: list[str]) -> None:
    """Do a job, or take back what it did before. The exit status is 1 where it failed, and the log says why."""
    cut = words.index("--")
    own, (step, *arguments) = _named(words[:cut]), words[cut + 1 :]
    work, log = Path(own["work"][0]), Path(own["log"][0])
    try:
        join_run(work)
    except OverError:
        raise SystemExit("This job's run is over: another one has begun.") from None
    log.unlink(missing_ok=True)
    if "depends" not in own:
        _call(step, arguments, log)
        return
    job, (depends,) = job_of(work, log), own["depends"]
    inputs = hashes(work, map(Path, own["inputs"]))
    if restore(job, depends, inputs):
        return
    _call(step, arguments, log)
    write_receipt(job, depends, inputs, map(Path, own["outputs"]))


def _call(step: str, arguments: list[str], log: Path) -> None:
    from pipeline.steps.run import run  # with the step come its libraries: not before they are needed

    run(f"pipeline.steps.{step}", _named(arguments), log)


def _named(words: list[str]) -> dict[str, list[str]]:
    """Words by the `--name` before them. A word that belongs to no name is none of ours."""
    values: dict[str, list[str]] = {}
    for word in words:
        if word.startswith("--"):
            values[word[2:].replace("-", "_")] = current = []
        else:
            current.append(word)
    return values


if __name__ == "__main__":
    signal.signal(signal.SIGINT, signal.SIG_DFL)  # whoever stops a run needs no trace of where each job was
    main(sys.argv[1:])
