"""What a test brings of words is gone after it."""

from collections.abc import Iterator

import pytest

from pipeline.words import use_words


@pytest.fixture(autouse=True)
def no_words_brought() -> Iterator[None]:
    yield
    use_words({})
