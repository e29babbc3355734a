"""`pattern-release`: the same targets as Snakemake's, with a line a stage; the engine's own words go to a log."""

import argparse
import os
import re
import signal
import subprocess
import sys
from pathlib import Path

from pipeline.rules.screen import ENGINE_LOG, SCREEN

ROOT = Path(__file__).resolve().parents[1]
COMMAND = "pattern-release"
COMMANDS = ("check", "verify", "lays", "layout", "seal", "compare")
TARGETS = {"build": "all", **{command: command for command in COMMANDS}}


def main(arguments: list[str] | None = None) -> None:
    """Run one target; the exit status is 1 where anything failed or blocks."""
    given = sys.argv[1:] if arguments is None else arguments
    if given[:1] == ["start"]:
        raise SystemExit(_start(given[1:]))
    asked = _parser().parse_args(given)
    if asked.do == "doctor":
        raise SystemExit(_doctor(asked))
    work = asked.work or (asked.source or ROOT / "source").parent / ".work"
    log = work / ENGINE_LOG
    try:
        log.parent.mkdir(parents=True, exist_ok=True)
        with log.open("ab") as engine:
            raise SystemExit(_run(_command(asked, work), engine.fileno(), log))
    except OSError as error:
        print(f"{error.filename}: {error.strerror}. Mend that, or take another folder with --work.", file=sys.stderr)
        raise SystemExit(1) from None


def _start(given: list[str]) -> int:
    from pipeline.starting.first import NoStartError, start  # a run of the engine does without

    parser = argparse.ArgumentParser(
        prog="pattern-release start",
        description="Write a first pattern.toml of what drawings hold; nothing is overwritten.",
    )
    parser.add_argument("folder", type=Path, help="the pattern's folder: its name is the pattern's")
    parser.add_argument("--from", dest="drawings", type=Path, nargs="+", default=[], metavar="DRAWING")
    asked = parser.parse_args(given)
    try:
        print(*start(asked.folder, asked.drawings, _called()), sep="\n")
    except NoStartError as why:
        print(why, file=sys.stderr)
        return 1
    except OSError as error:
        print(f"{error.filename}: {error.strerror}. Mend that, or take another folder.", file=sys.stderr)
        return 1
    return 0


def _called() -> str:
    """The program as it was called, to be called so again."""
    name = Path(sys.argv[0]).name
    return sys.argv[0] if name.startswith(COMMAND) else COMMAND


def _doctor(asked: argparse.Namespace) -> int:
    from pipeline.starting.doctor import doctor

    source = asked.source or ROOT / "source"
    rows = doctor(source, asked.release or ROOT / "release", asked.work or source.parent / ".work")
    for well, said in rows:
        print(f"{'well ' if well else 'MEND '} {said}")
    return 0 if all(well for well, _ in rows) else 1


def _run(command: list[str], engine: int, log: Path) -> int:
    shown = os.dup(sys.stdout.fileno())
    environment = {**os.environ, SCREEN: str(shown)}
    engines: list[subprocess.Popen[bytes]] = []
    ended = False

    def end(*_: object) -> None:
        nonlocal ended
        ended = True
        for started in engines:
            started.terminate()  # begins no more jobs, and ends when those that run are done

    signal.signal(signal.SIGTERM, end)
    with subprocess.Popen(command, env=environment, stdout=engine, stderr=engine, pass_fds=(shown,)) as running:
        engines.append(running)
        if ended:
            end()
        while True:
            try:
                status = running.wait()
                break
            except KeyboardInterrupt:  # the engine has it too, and ends its jobs first
                running.send_signal(signal.SIGINT)
    if status < 0 or (ended and status):
        print(f"The run was stopped. What it said is in {log}.", flush=True)
    return min(abs(status), 1)


def _command(asked: argparse.Namespace, work: Path) -> list[str]:
    given = {"pattern": asked.pattern, "source": asked.source, "release": asked.release, "seconds": asked.seconds}
    given["against"] = asked.against
    config = [f"{key}={value}" for key, value in given.items() if value is not None]
    return [
        *(sys.executable, "-m", "snakemake", TARGETS[asked.do]),
        *("--snakefile", str(ROOT / "Snakefile")),
        *("--workflow-profile", str(ROOT / "pipeline/profiles/default")),
        *("--cores", str(asked.cores), "--nolock", "--printshellcmds"),
        *("--config", f"work={work}", *config),
    ]


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="pattern-release", description=__doc__)
    parser.add_argument(
        "do",
        choices=(*TARGETS, "start", "doctor"),
        help="start FOLDER: a first pattern.toml of what drawings hold; doctor: whether this computer has what a run"
        " needs; build and bundle; only check; hold bundles against their manifests; search better lays, or paper"
        " layouts: run lays and layout before a first release, since a build searches for seconds only; seal: build,"
        " and enter the version in the ledger; compare: what changed since the last sealed version",
    )
    parser.add_argument("--pattern", help="only this pattern, or several with commas between")
    parser.add_argument("--source", type=_absolute, help="where the patterns are")
    parser.add_argument("--release", type=_absolute, help="where bundles go")
    parser.add_argument("--work", type=_absolute, help="where jobs work; .work beside the source if not said")
    parser.add_argument("--cores", type=_cores, default="all", help="how many jobs run side by side")
    parser.add_argument("--seconds", type=_seconds, help="how long a lay, or a width of paper, is searched")
    parser.add_argument("--against", type=_version, help="the sealed version to compare with, the last one if not said")
    return parser


def _absolute(text: str) -> Path:
    return Path(text).absolute()


def _cores(text: str) -> str:
    if text != "all" and not (text.isascii() and text.isdigit() and int(text) > 0):
        raise argparse.ArgumentTypeError(f"{text} is no number of cores: 1 or more, or all")
    return text


def _version(text: str) -> str:
    if not re.fullmatch(r"[0-9]+\.[0-9]+\.[0-9]+", text):
        raise argparse.ArgumentTypeError(f"{text} is no version: three numbers, as 1.0.0")
    return text


def _seconds(text: str) -> int:
    if not (text.isascii() and text.isdigit() and 0 < int(text) <= 86_400):
        raise argparse.ArgumentTypeError(f"{text} is no number of seconds: 1 to 86400")
    return int(text)
