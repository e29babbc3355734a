"""What a job does: `[--depends …] --log FILE --inputs … --outputs … -- STEP --name value …`.

A job that depends on the same code, settings and inputs as the last one of its name takes that one's files back and
does nothing. Else the step is imported and called, and a receipt says what its files were made of.
"""

from pathlib import Path

from pipeline.work.locks import OverError, join_run
from pipeline.work.receipts import hashes, job_of, write_receipt
from pipeline.work.stale import restore


def do_job(words: list[str]) -> None:
    """Do a job, or take back what it did before. The exit status is 1 where it failed, and the log says why."""
    cut = words.index("--")
    own, (step, *arguments) = _named(words[:cut]), words[cut + 1 :]
    work, log = Path(own["work"][0]), Path(own["log"][0])
    try:
        join_run(work)
        log.unlink(missing_ok=True)
        _do(own, work, log, step, _named(arguments))
    except OverError:
        raise SystemExit("This job's run is over: another one has begun.") from None
    except Exception as fault:
        from pipeline.steps.run import fail  # what tells of faults is not needed by a job that has none

        fail(fault, step, log)


def step_of(words: list[str]) -> str:
    """The name of the step that a job calls."""
    return words[words.index("--") + 1]


def _do(own: dict[str, list[str]], work: Path, log: Path, step: str, arguments: dict[str, list[str]]) -> None:
    if "depends" not in own:
        _call(step, arguments, log)
        return
    job, (depends,) = job_of(work, log), own["depends"]
    inputs = hashes(work, map(Path, own["inputs"]))
    if restore(job, depends, inputs):
        return
    _call(step, arguments, log)
    if log.is_file() and log.stat().st_size:
        return  # something failed within the step: what it wrote is told, and not built on again
    write_receipt(job, depends, inputs, map(Path, own["outputs"]))


def _call(step: str, arguments: dict[str, list[str]], log: Path) -> None:
    from pipeline.steps.run import call  # with the step come its libraries: not before they are needed

    call(f"pipeline.steps.{step}", arguments, log)


def _named(words: list[str]) -> dict[str, list[str]]:
    """Words by the `--name` before them."""
    values: dict[str, list[str]] = {}
    for word in words:
        if word.startswith("--"):
            values[word[2:].replace("-", "_")] = current = []
        else:
            current.append(word)
    return values
