"""Signals that come while the thread that they interrupt holds what their answer needs."""

import os
import signal
import threading

import pytest

from pipeline.work.signals import answer_apart


@pytest.fixture
def restored():
    former = signal.getsignal(signal.SIGUSR1)
    yield
    signal.signal(signal.SIGUSR1, former)


def test_an_answer_that_needs_a_held_lock_is_given_when_it_is_free(restored):
    lock, heard = threading.Lock(), threading.Event()

    def answer(number, frame):
        with lock:
            heard.set()

    signal.signal(signal.SIGUSR1, answer)
    answer_apart(signal.SIGUSR1)
    with lock:
        os.kill(os.getpid(), signal.SIGUSR1)
        assert not heard.wait(timeout=0.05)
    assert heard.wait(timeout=60)


def test_a_signal_that_nobody_answers_stays_as_it_is(restored):
    signal.signal(signal.SIGUSR1, signal.SIG_IGN)
    answer_apart(signal.SIGUSR1)
    assert signal.getsignal(signal.SIGUSR1) is signal.SIG_IGN
