"""Any order in which two devices write, undo, read in and copy: the fold is the document, and nothing accepted is lost."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, initialize, invariant, rule
from thorough import some

from trialfit.book.changes import Change, document, empty, put, state_of, value_at
from trialfit.book.journal import Book
from trialfit.book.refusals import Refused, Stale
from trialfit.book.toml_text import read_text

PARTS = ("gearbox", "prop_shaft", "hub_rear", "car")
START = read_text('[car]\nmass = "960 kg"\n[gearbox]\nratios = ["3", "2"]\n[prop_shaft]\nafter = "gearbox"').document
PATHS = st.sampled_from(
    ["name", "car.mass", "car.note", "gearbox.ratios", "prop_shaft.after", "limit.gearing.time", "choice.box", *PARTS]
)
TEXTS = st.sampled_from(["1 kg", "2 kg", "gearbox", "ü \" \\ '''", "several\nlines", "", " "])
PART = st.builds(
    lambda kind, mass: {"kind": kind, "note": "", "entries": {"mass": mass}}, st.sampled_from(["car", "hub"]), TEXTS
)
CHOICE = st.builds(
    lambda picked: {"options": ["gearbox"], "picked": picked, "note": ""}, st.sampled_from(["gearbox", ""])
)
VALUES = st.one_of(st.none(), TEXTS, st.lists(TEXTS, max_size=3), PART, CHOICE)


class TwoDevices(RuleBasedStateMachine):
    """Two open books on one file, beside a plain model: a state and the list of accepted changes."""

    seen = Bundle("seen")

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.file = Path(self.folder.name) / "two devices.book"
        Book.create(self.file, START, "first").close()
        self.books = {name: Book.open(self.file) for name in ("laptop", "phone")}
        self.model = state_of(START)
        self.accepted = list(self.books["phone"].journal())
        self.copies = 0

    def teardown(self) -> None:
        """Lets go of the file."""
        for book in self.books.values():
            book.close()
        self.folder.cleanup()

    def accept(self, made: Any) -> None:
        """A change that was accepted goes into the model, whoever made it."""
        put(self.model, made.path, Change(path=made.path, before=None, after=made.after).model_copy(deep=True).after)
        self.accepted.append(made)

    @initialize(target=seen)
    def look_first(self) -> Any:
        """Both devices begin with a sight of one fact."""
        return ("car.mass", "960 kg")

    @rule(target=seen, path=PATHS, device=st.sampled_from(["laptop", "phone"]))
    def look(self, path: str, device: str) -> Any:
        """A device looks at a value; it may write over it much later."""
        value = self.books[device].value(path)
        assert value == value_at(self.model, path)
        return (path, value)

    @rule(sight=seen, after=VALUES, device=st.sampled_from(["laptop", "phone"]), key=st.sampled_from(["", "k1", "k2"]))
    def write(self, sight: Any, after: Any, device: str, key: str) -> None:
        """A write from an older sight is accepted only where the value still stands."""
        path, before = sight
        known = next((one for one in self.accepted if key and one.key == key), None)
        stands = value_at(self.model, path) == before
        try:
            made = self.books[device].write(Change(path=path, before=before, after=after, key=key), device)
        except Stale as stale:
            assert not stands
            assert stale.found == value_at(self.model, path)
            return
        except Refused:
            return
        if known is not None:
            assert made == known
            return
        assert stands
        assert made.number == len(self.accepted) + 1
        self.accept(made)

    @rule(number=st.integers(1, 40), device=st.sampled_from(["laptop", "phone"]))
    def undo(self, number: int, device: str) -> None:
        """An undo is the change it takes back, turned round; or it is refused."""
        try:
            made = self.books[device].undo(number, device)
        except Refused:
            return
        undone = self.accepted[number - 1]
        assert (made.path, made.before, made.after) == (undone.path, undone.after, undone.before)
        self.accept(made)

    @rule(mass=TEXTS, name=TEXTS, device=st.sampled_from(["laptop", "phone"]))
    def read_in(self, mass: str, name: str, device: str) -> None:
        """A whole document taken in leaves exactly that document."""
        car = START.parts["car"].model_copy(update={"entries": {"mass": mass}})
        wanted = START.model_copy(update={"name": name, "parts": {**START.parts, "car": car}})
        for made in self.books[device].take_in(wanted, device):
            self.accept(made)
        assert self.books[device].document == wanted

    @rule(device=st.sampled_from(["laptop", "phone"]))
    def keep_copy(self, device: str) -> None:
        """A copy holds the same build and the same history."""
        self.copies += 1
        target = Path(self.folder.name) / f"copy {self.copies}.book"
        self.books[device].keep_copy(target)
        with Book.open(target, read_only=True) as copy:
            assert copy.document == document(self.model)
            assert list(copy.journal()) == self.accepted

    @rule(device=st.sampled_from(["laptop", "phone"]))
    def open_again(self, device: str) -> None:
        """What a device knows of a book is only what the file says."""
        self.books[device].close()
        self.books[device] = Book.open(self.file)

    @rule(number=st.integers(1, 40))
    def look_back(self, number: int) -> None:
        """The build as it was is the fold of the changes up to then."""
        state = empty()
        for change in self.accepted[:number]:
            put(state, change.path, change.model_copy(deep=True).after)
        reached = min(number, len(self.accepted))
        assert self.books["phone"].document_after(reached) == document(state)

    @invariant()
    def both_see_the_fold(self) -> None:
        """Both devices see the fold of all that was accepted."""
        wanted = document(self.model)
        for book in self.books.values():
            assert book.document == wanted
            assert book.number == len(self.accepted)

    @invariant()
    def nothing_accepted_is_lost(self) -> None:
        """The journal is the list of what was accepted, in order."""
        assert list(self.books["laptop"].journal()) == self.accepted


TwoDevices.TestCase.settings = settings(max_examples=some(40), stateful_step_count=30)
TestTwoDevices = TwoDevices.TestCase
