"""What holds for all tests."""

from __future__ import annotations

import gc
import os
import signal
import sys
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command does, and before numpy is loaded

import pytest
from hypothesis import settings

if (
    signal.getsignal(signal.SIGINT) is signal.SIG_IGN
):  # as where a shell started the tests behind its back: they send interrupts
    signal.signal(signal.SIGINT, signal.default_int_handler)

sys.path.append(str(Path(__file__).parent))  # thorough.py stands beside the folders of tests

# No test may depend on the speed of the machine, so no example has a deadline. The usual run draws the same examples
# every time; the long one draws new ones, and says how to draw a failing one again.
settings.register_profile("usual", deadline=None, derandomize=True)
settings.register_profile("long", deadline=None, print_blob=True)


def pytest_addoption(parser):
    """--long, which ./test passes on."""
    parser.addoption("--long", action="store_true", help="whole proofs over many inputs, not a fixed tenth of them")


def pytest_configure(config):
    """Before any test is read, because tests say how many inputs they take where they are declared."""
    import thorough
    import thrift

    thrift.count()
    thorough.is_long = config.getoption("--long")
    settings.load_profile("long" if thorough.is_long else "usual")


def pytest_collection_finish():
    """Thousands of tests and all modules stay until the end: looking through them for rubbish would take a tenth of the time."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)


_DRAWN_BEFORE = pytest.StashKey[int]()


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item):
    """What a test draws is counted from here, what it has set up included."""
    import thrift

    item.stash[_DRAWN_BEFORE] = thrift.drawn()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item):
    """A test of the usual run that draws too many values fails, and says so: seconds would depend on the machine."""
    import thorough
    import thrift

    report = yield
    drawn = thrift.drawn() - item.stash.get(_DRAWN_BEFORE, thrift.drawn())
    says = thrift.too_many(drawn, getattr(item, "function", None))
    if says and report.when == "call" and report.passed and not thorough.is_long:
        report.outcome, report.longrepr = "failed", says
    return report
