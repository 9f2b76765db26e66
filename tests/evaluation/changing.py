"""Any change of a build, for the tests that compare a changed build with one worked out anew.

Answers   changed    a document with one thing changed at random: a value, spread or note, a fact more or less, a word, a part more
                     or less, the option picked, a limit, the order of the parts
          told_apart the findings of two reports that differ, with what differs
"""

from __future__ import annotations

import math
import re
from random import Random

from trialfit.book.document import Document, PartText
from trialfit.evaluation.finding import Report
from trialfit.parts import KINDS
from trialfit.parts.declaring import FactSpec, WordSpec

_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_LIMITS = ("12 mm", "5 °", "0.7", "3000 rpm", "100 N·m", "200 kPa", "12 mm, manual")
_FACTORS = (0.9, 0.97, 1.03, 1.1, 2.0)


def changed(document: Document, random: Random, identifiers: list[str]) -> Document:
    """The document with one change; now and then it is one that a build refuses."""
    parts = {name: (part.kind, dict(part.entries)) for name, part in document.parts.items()}
    of_part = (_scale, _scale, _scale, _scale, _note, _drop, _add, _add, _word)
    of_build = (_part_less, _part_more, _shuffled)
    change = random.choice((*of_part, *of_build, _limit, _pick))
    if change in of_part:
        kind, entries = parts[random.choice(list(parts))]
        change(random, kind, entries)
    elif change in of_build:
        parts = change(random, parts)
    limits = _limit(random, document.limits, identifiers) if change is _limit else document.limits
    choices = _pick(random, document.choices) if change is _pick else document.choices
    texts = {name: PartText(kind=kind, entries=entries) for name, (kind, entries) in parts.items()}
    return Document(name=document.name, parts=texts, choices=choices, limits=limits)


def _scaled(random, text):
    found = list(_NUMBER.finditer(text.partition(";")[0]))
    if not found:
        return text
    one = found[0] if random.random() < 0.7 else random.choice(found)
    return f"{text[: one.start()]}{float(one[0]) * random.choice(_FACTORS):.6g}{text[one.end() :]}"


def _scale(random, _, entries):
    if entries:
        key = random.choice(list(entries))
        items = [entries[key]] if isinstance(entries[key], str) else list(entries[key])
        place = random.randrange(len(items)) if items else 0
        items[place : place + 1] = [_scaled(random, one) for one in items[place : place + 1]]
        entries[key] = items[0] if isinstance(entries[key], str) else tuple(items)


def _note(random, _, entries):
    plain = [key for key, text in entries.items() if isinstance(text, str) and not {";", "\n"} & set(text)]
    if plain:
        entries[random.choice(plain)] += "; really"


def _drop(random, _, entries):
    if entries:
        del entries[random.choice(list(entries))]


def _add(random, kind, entries):
    open_ones = [(n, one) for n, one in KINDS[kind].specs().items() if n not in entries and isinstance(one, FactSpec)]
    if open_ones:
        name, spec = random.choice(open_ones)
        entries[name] = spec.example


def _word(random, kind, entries):
    words = [(name, one) for name, one in KINDS[kind].specs().items() if isinstance(one, WordSpec)]
    if words:
        name, spec = random.choice(words)
        entries[name] = random.choice(spec.words)


def _part_less(random, parts):
    gone = random.choice(list(parts))
    return {name: part for name, part in parts.items() if name != gone}


def _part_more(random, parts):
    copied = random.choice(list(parts.values()))
    return {**parts, "one_more": random.choice([copied, (random.choice(list(KINDS)), {})])}


def _shuffled(random, parts):
    return dict(random.sample(list(parts.items()), len(parts)))


def _limit(random, limits, identifiers):
    if limits and random.random() < 0.3:
        return {}
    return {**limits, random.choice(identifiers): random.choice(_LIMITS)} if identifiers else limits


def _pick(random, choices):
    return {name: one.model_copy(update={"picked": random.choice(one.options)}) for name, one in choices.items()}


def told_apart(report: Report, other: Report) -> list[str]:
    """What differs; last digits of shares may, since sums in another order differ in them."""
    mine, others = ({one.id: one for one in (*each.findings, *each.figures)} for each in (report, other))
    if list(mine) != list(others):
        return sorted(set(mine) ^ set(others)) or ["the order of the findings"]
    rest = {"findings": (), "figures": ()}
    differ = [] if report.model_copy(update=rest) == other.model_copy(update=rest) else ["the report"]
    unequal = [name for name in mine if mine[name] != others[name]]
    return differ + [name for name in unequal if not _alike(mine[name].model_dump(), others[name].model_dump())]


def _alike(one, other):
    if isinstance(one, dict):
        return list(one) == list(other) and all(_alike(one[key], other[key]) for key in one)
    if isinstance(one, list | tuple):
        return len(one) == len(other) and all(map(_alike, one, other))
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9)
    return one == other
