"""What reading tells: of `pattern.toml`, the files, each master, and of names that only one of these has."""

from pipeline.model.stages import Stage

OF_PATTERN_FILE = Stage(
    id="pattern-file",
    title="`pattern.toml` can be read: its keys, their values, and what they name",
    rationale="Nothing is guessed: a key that is misspelled would else be a wish that nobody heard.",
    severity="block",
)
MASTER_FILES = Stage(
    id="master-files",
    title="Every piece has one master in every size, and every SVG has a piece",
    rationale="A drawing that nothing claims is one that its designer believes to be in the pattern.",
    severity="block",
)
MASTERS = Stage(
    id="masters",
    title="A master can be read: its scale, its groups, its seam line and its marks",
    rationale="What is not certain is refused: a scale that is guessed is cut in cloth.",
    severity="block",
)
REFERENCES = Stage(
    id="references",
    title="Edges, lines and notches that `pattern.toml` names are drawn, in every size",
    rationale="A name that one size lacks would leave its seams unchecked.",
    severity="block",
)
OF_LOGO = Stage(
    id="logo",
    title="The logo can be drawn on start pages as it is, stands out from paper, and has room there",
    rationale="What is approximated is another's mark; one that is left out without a word is missed by its owner.",
    severity="block",
)
STAGES = (OF_PATTERN_FILE, MASTER_FILES, MASTERS, REFERENCES, OF_LOGO)
