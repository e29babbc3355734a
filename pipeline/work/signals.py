"""How a signal is answered that may come at any moment."""

import _thread
import signal


def answer_apart(number: signal.Signals) -> None:
    """Have what answers a signal by now do so beside the thread that the signal interrupts.

    The engine's own answer to "end" takes locks. The interrupted thread may hold one of them at that moment, and would
    then wait for itself, for ever. `_thread`, since what starts a `threading.Thread` takes locks too.
    """
    answer = signal.getsignal(number)
    if callable(answer):
        signal.signal(number, lambda *what: _thread.start_new_thread(answer, what))
