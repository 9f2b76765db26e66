"""Formulas and tables of the trade: SI units in, SI units out, sources beside them.

Nothing here uses builds, facts or spreads: every formula can be used alone. A folder is a room, one for each subject. A
room hands out the formulas of its modules by name, and a module is found without naming its room:

    from trialfit.handbook import gearing, cardan
    gearing.road_speed(...)      # trialfit.handbook.gearing.ratios.road_speed
    cardan.output_angle(...)     # trialfit.handbook.driveline.cardan.output_angle

README.md gives the reading order.
"""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from types import ModuleType


def rooms() -> tuple[str, ...]:
    """The rooms of the handbook, by name."""
    return tuple(sorted(found.name for found in iter_modules(__path__) if found.ispkg))


def modules(room: str) -> Iterator[ModuleType]:
    """The modules of a room by name, each imported when its turn comes."""
    place = import_module(f"{__name__}.{room}")
    for found in iter_modules(place.__path__):
        yield import_module(f"{place.__name__}.{found.name}")


def formulas_of(room: str) -> Callable[[str], object]:
    """What a room returns for a name: the formula, class or constant that one of its modules defines."""

    def find(name: str) -> object:
        if not name.startswith("_"):
            for module in modules(room):
                thing = vars(module).get(name)
                if getattr(thing, "__module__", module.__name__) == module.__name__ and thing is not None:
                    return thing
        raise AttributeError(f"the room {room!r} of the handbook has nothing called {name!r}")

    return find


def __getattr__(name: str) -> ModuleType:
    """A room, or a module of any room, when it is first asked for. Raises AttributeError."""
    if not name.startswith("_"):
        for room in rooms():
            place = import_module(f"{__name__}.{room}")
            if name == room:
                return place
            if any(found.name == name for found in iter_modules(place.__path__)):
                return import_module(f"{place.__name__}.{name}")
    raise AttributeError(f"the handbook has no room and no module {name!r}: its rooms are {', '.join(rooms())}")
