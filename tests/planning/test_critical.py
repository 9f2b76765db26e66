"""The longest path against networkx, on random networks."""

from __future__ import annotations

import networkx as nx
import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from trialfit.planning.critical import least_end, passes
from trialfit.planning.problem import Link, Problem, Slots, Task


@st.composite
def problems(draw: st.DrawFn) -> Problem:
    """Tasks with links from lower to higher numbers, waits between some."""
    lengths = draw(st.lists(st.integers(1, 20), min_size=1, max_size=25))
    pairs = st.tuples(st.integers(0, len(lengths) - 1), st.integers(0, len(lengths) - 1), st.integers(0, 9))
    links = {(a, b): wait for a, b, wait in draw(st.lists(pairs, max_size=60)) if a < b}
    count = sum(lengths) + sum(links.values()) + 1
    tasks = tuple(Task(length) for length in lengths)
    return Problem(tasks, tuple(Link(a, b, float(w)) for (a, b), w in links.items()), Slots.plain(count), {})


def _graph(problem: Problem) -> nx.DiGraph:
    """The same as arcs: from the begin of a task to its end, and from there over the wait to the next."""
    graph = nx.DiGraph()
    for number, task in enumerate(problem.tasks):
        graph.add_edge("begin", ("b", number), weight=0)
        graph.add_edge(("b", number), ("e", number), weight=task.length)
        graph.add_edge(("e", number), "end", weight=0)
    for link in problem.links:
        graph.add_edge(("e", link.before), ("b", link.after), weight=int(link.wait))
    return graph


def _longest(graph: nx.DiGraph, source: object) -> dict[object, int]:
    longest = {source: 0}
    for node in nx.topological_sort(graph):
        if node in longest:
            for _, other, data in graph.out_edges(node, data=True):
                longest[other] = max(longest.get(other, 0), longest[node] + data["weight"])
    return longest


@settings(max_examples=150)
@given(problems())
def test_end_starts_and_floats_are_those_of_the_longest_paths(problem):
    graph = _graph(problem)
    found = passes(problem)
    end = nx.dag_longest_path_length(graph)
    from_begin, to_end = _longest(graph, "begin"), _longest(graph.reverse(), "end")

    assert found.end == end
    for number in range(len(problem.tasks)):
        assert found.earliest[number] == from_begin["b", number]
        assert found.latest[number] == end - to_end["b", number]
        assert found.floats[number] == end - to_end["b", number] - from_begin["b", number]


@settings(max_examples=150)
@given(problems())
def test_the_chain_is_a_way_of_full_length_without_float(problem):
    found = passes(problem)
    waits = {(link.before, link.after): link.wait for link in problem.links}
    length = sum(problem.tasks[number].length for number in found.chain)
    length += sum(waits[pair] for pair in zip(found.chain, found.chain[1:], strict=False))

    assert length == found.end
    assert {found.floats[number] for number in found.chain} == {0}


def test_of_two_that_made_it_begin_so_late_the_chain_takes_the_one_without_float():
    """Nights after 4 slots of an hour: the paint on the first is dry next morning, whether it ends at 3 or at 4; the other ends at 4."""
    clock = np.array([day * 24.0 + hour for day in range(3) for hour in range(4)])
    tasks = (Task(3), Task(4), Task(1), Task(4))
    problem = Problem(tasks, (Link(0, 3, 9.0), Link(1, 3), Link(2, 3)), Slots(clock, 1.0, (np.ones(12, bool),)), {})
    found = passes(problem)

    assert found.floats[0] == 1
    assert found.floats[1] == 0
    assert found.chain == (1, 3)


def test_the_textbook_case():
    """A3, B4 (A), C2 (A), D5 (B), E1 (C), F2 (D, E): worked by hand; end 14, float of C and E 6."""
    tasks = tuple(map(Task, (3, 4, 2, 5, 1, 2)))
    links = tuple(Link(a, b) for a, b in ((0, 1), (0, 2), (1, 3), (2, 4), (3, 5), (4, 5)))
    found = passes(Problem(tasks, links, Slots.plain(20), {}))

    assert found.end == 14
    assert found.floats == (0, 0, 6, 0, 6, 0)
    assert found.chain == (0, 1, 3, 5)


def test_what_leads_to_the_goal_has_to_share_the_hoist():
    """Three tasks of 4 slots, one after the other on one hoist, then the goal: 13. What is beside the goal does not count."""
    tasks = (*(Task(4, uses={"hoist": 1}) for _ in range(4)), Task(1, uses={"hoist": 1}))
    links = tuple(Link(before, 4) for before in range(3))
    problem = Problem(tasks, links, Slots.plain(40), {"hoist": 1}, {}, 4)

    assert passes(problem).end == 5
    assert least_end(problem) == 13
