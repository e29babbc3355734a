"""How many small changes of the code its own tests notice: `python -m tests.bench.mutants --count 40 --seed 1`.

A mutant changes one line: an operator, a comparison, a number, a sign, `and` for `or`, a Boolean, or a name for another
name of the same function. It is made in a copy of the tree; the tests that name its module, and those of its
room, run until the first fails. What takes ten minutes of CPU counts as noticed. Docstrings, annotations, decorators
and imports stay as they are.
"""

import argparse
import ast
import copy
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("geometry", "cutting", "checks", "sheets", "lays", "tables", "drawing")
_KEPT = ("pipeline", "tests", "source", "release", "pyproject.toml", "Snakefile", "README.md", "DEVELOPERS.md")
_MOST_CPU_S = 600
_NEVER_RUN = ("annotation", "returns", "decorator_list", "bases", "type_params")
_SWAPS: dict[type, tuple[type, ...]] = {
    ast.Add: (ast.Sub,),
    ast.Sub: (ast.Add,),
    ast.Mult: (ast.Div,),
    ast.Div: (ast.Mult,),
    ast.FloorDiv: (ast.Div,),
    ast.Mod: (ast.Mult,),
    ast.BitAnd: (ast.BitOr,),
    ast.BitOr: (ast.BitAnd,),
    ast.Lt: (ast.LtE, ast.Gt),
    ast.LtE: (ast.Lt, ast.GtE),
    ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.LtE),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.And: (ast.Or,),
    ast.Or: (ast.And,),
}


class Mutant(NamedTuple):
    """A changed expression of one line: where it stands, what it was and what it is."""

    path: Path
    line: int
    start: int
    end: int
    was: str
    now: str


def mutants_of(path: Path) -> list[Mutant]:
    """Every mutant of a file, in the order of its text."""
    text = path.read_text(encoding="utf-8")
    found = dict.fromkeys(
        Mutant(path, node.lineno, node.col_offset, node.end_col_offset, ast.unparse(node), now)
        for node, names in _expressions(ast.parse(text))
        for now in _changed(node, names)
        if node.lineno == node.end_lineno and node.end_col_offset is not None
    )
    return sorted(found, key=lambda each: (each.line, each.start, each.now))


def _expressions(tree: ast.Module) -> Iterator[tuple[ast.expr, tuple[str, ...]]]:
    """Expressions that are run, each with the variables of its function."""

    def walk(node: ast.AST, names: tuple[str, ...]) -> Iterator[tuple[ast.expr, tuple[str, ...]]]:
        if isinstance(node, ast.FunctionDef):
            names = tuple(arg.arg for arg in node.args.args if arg.arg != "self") + tuple(
                dict.fromkeys(
                    each.id for each in ast.walk(node) if isinstance(each, ast.Name) and isinstance(each.ctx, ast.Store)
                )
            )
        for field, value in ast.iter_fields(node):
            if field in _NEVER_RUN or (field == "keywords" and isinstance(node, ast.ClassDef)):
                continue
            for child in value if isinstance(value, list) else [value]:
                if isinstance(child, ast.Import | ast.ImportFrom | ast.JoinedStr):
                    continue
                if isinstance(child, ast.Expr) and isinstance(child.value, ast.Constant):
                    continue
                if isinstance(child, ast.Assign) and _is_type(child):
                    continue
                if isinstance(child, ast.expr):
                    yield child, names
                if isinstance(child, ast.AST):
                    yield from walk(child, names)

    return walk(tree, ())


def _is_type(node: ast.Assign) -> bool:
    """Whether a module's assignment only names a type."""
    value = node.value
    return isinstance(value, ast.Subscript) and isinstance(value.value, ast.Name) and value.value.id[:1].isupper()


def _changed(node: ast.expr, names: tuple[str, ...]) -> Iterator[str]:
    """The texts that may stand in an expression's place."""
    if isinstance(node, ast.BinOp | ast.BoolOp):
        for swap in _SWAPS.get(type(node.op), ()):
            yield _with(node, op=swap())
    elif isinstance(node, ast.Compare) and len(node.ops) == 1:
        for swap in _SWAPS.get(type(node.ops[0]), ()):
            yield _with(node, ops=[swap()])
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub | ast.Not):
        yield f"({ast.unparse(node.operand)})"
    elif isinstance(node, ast.Constant) and isinstance(node.value, bool):
        yield repr(not node.value)
    elif isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        yield repr(node.value + 1)
        if node.value not in (0, 1):
            yield repr(node.value * 2)
    elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load) and node.id in names and len(names) > 1:
        alike = [name for name in names if name != node.id and name.rpartition("_")[2] == node.id.rpartition("_")[2]]
        place = names.index(node.id)
        yield alike[0] if alike else names[(place + 1) % len(names)]


def _with(node: ast.expr, **changes: object) -> str:
    other = copy.copy(node)
    for name, value in changes.items():
        setattr(other, name, value)
    return f"({ast.unparse(other)})"


def written(mutant: Mutant, tree: Path) -> tuple[Path, str]:
    """A mutant put into a copy of the tree: its file there, and the file's text as it was."""
    place = tree / mutant.path.relative_to(ROOT)
    text = place.read_text(encoding="utf-8")
    lines = text.splitlines(keepends=True)
    row = lines[mutant.line - 1].encode()
    lines[mutant.line - 1] = (row[: mutant.start] + mutant.now.encode() + row[mutant.end :]).decode()
    place.write_text("".join(lines), encoding="utf-8")
    return place, text


def fails(tree: Path, room: str, module: str) -> bool:
    """Whether a test of the room fails, or one elsewhere that names the module, or they take too long.

    Files that name the module come first.
    """
    own = tree / "tests" / room
    naming = [file for file in sorted((tree / "tests").rglob("test_*.py")) if module and module in file.read_text()]
    files = list(dict.fromkeys((*naming, *sorted(own.rglob("test_*.py")))))
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-n", "0", "-p", "no:cacheprovider", *map(str, files)]
    limit = lambda: resource.setrlimit(resource.RLIMIT_CPU, (_MOST_CPU_S, _MOST_CPU_S))  # noqa: E731
    return subprocess.run(command, cwd=tree, capture_output=True, preexec_fn=limit, check=False).returncode != 0


def by_lot(files: list[Path], count: int, seed: int) -> list[Mutant]:
    """So many mutants: a line by lot, then one of its mutants."""
    lines: dict[tuple[Path, int], list[Mutant]] = {}
    for path in files:
        for mutant in mutants_of(path):
            lines.setdefault((path, mutant.line), []).append(mutant)
    lot = random.Random(seed)
    chosen = lot.sample(sorted(lines), min(count, len(lines)))
    return [lot.choice(lines[line]) for line in chosen]


def main() -> None:
    """Print every mutant as it is judged, and how many were noticed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--rooms", nargs="*", default=ROOMS)
    parser.add_argument("--files", nargs="*", help="only these files, relative to pipeline/")
    parser.add_argument("--minutes", type=float, default=600.0, help="begin no mutant after so long")
    asked = parser.parse_args()
    files = [ROOT / "pipeline" / name for name in asked.files or ()]
    files = files or [path for room in asked.rooms for path in sorted((ROOT / "pipeline" / room).rglob("*.py"))]
    start, noticed, survived = time.monotonic(), 0, 0
    with tempfile.TemporaryDirectory() as folder:
        tree = Path(folder)
        for name in _KEPT:
            source = ROOT / name
            if source.is_dir():
                shutil.copytree(source, tree / name, ignore=shutil.ignore_patterns("__pycache__", ".*"))
            else:
                shutil.copyfile(source, tree / name)
        sound: set[str] = set()
        for mutant in by_lot(files, asked.count, asked.seed):
            if time.monotonic() - start > 60 * asked.minutes:
                break
            module = mutant.path.relative_to(ROOT / "pipeline").with_suffix("").parts
            room = module[0]
            if room not in sound and fails(tree, room, ""):
                raise SystemExit(f"tests/{room} fails as it is")
            sound.add(room)
            place, text = written(mutant, tree)
            killed = fails(tree, room, f"{'.'.join(module)} import")
            place.write_text(text, encoding="utf-8")
            noticed, survived = noticed + killed, survived + (not killed)
            where = mutant.path.relative_to(ROOT / "pipeline").as_posix()
            print(
                f"{'noticed' if killed else 'SURVIVED'} {where}:{mutant.line}: {mutant.was} → {mutant.now}", flush=True
            )
    print(f"{noticed + survived} mutants, {noticed} noticed, {survived} survived")


if __name__ == "__main__":
    main()
