"""What `plan` reports, in the shape that `plan --json` prints.

Answers   PlanReport    the plan of a build: dates, chain, deliveries, uncertainties, money
          PlannedJob, Delivery, Doubt, SumView, MoneyView    its pieces
Not here  how it is made (plans.py), how it looks (cli/)
"""

from __future__ import annotations

from datetime import datetime

from pydantic import Field

from trialfit.facts.frozen import Frozen


class PlannedJob(Frozen):
    """One job of the plan; times by the wall clock of the workshop."""

    id: str
    title: str
    begins: datetime
    ends: datetime
    float_hours: float = Field(description="working hours that it may slip without moving the end")
    is_on_chain: bool


class Delivery(Frozen):
    """A part on order, and the cost of one day late."""

    part: str
    expected: datetime
    jobs: tuple[str, ...] = Field(description="the jobs that wait for it")
    day_late_costs: float = Field(description="days by which the end moves, mean over all draws")


class Doubt(Frozen):
    """A job, wait or delivery whose uncertainty matters to the end."""

    about: str
    share: float = Field(description="share of the variance of the end")


class SumView(Frozen):
    """An amount with the limits it lies in."""

    amount: float
    low: float
    high: float
    currency: str


class MoneyView(Frozen):
    """What was spent, is committed, is to come; by option of each choice; by job."""

    totals: dict[str, tuple[SumView, ...]]
    by_choice: dict[str, dict[str, tuple[SumView, ...]]]
    by_job: dict[str, tuple[SumView, ...]]
    without_price: tuple[str, ...]


class PlanReport(Frozen):
    """The plan of a build."""

    build: str
    moment: datetime
    goal: str
    hours_left: float = Field(description="likely working hours of all jobs up to the goal")
    end: datetime | None = Field(description="the end if everything takes its likely time; null if nothing is left")
    end_early: datetime | None = Field(description="5 % of the draws end by then")
    end_middle: datetime | None = Field(description="half of the draws end by then")
    end_late: datetime | None = Field(description="95 % of the draws end by then")
    chain: tuple[str, ...] = Field(description="the jobs that set the end, in order")
    jobs: tuple[PlannedJob, ...]
    deliveries: tuple[Delivery, ...]
    doubts: tuple[Doubt, ...]
    money: MoneyView
    is_proven: bool = Field(description="whether this is proven to be the shortest plan, for the likely times")
    gap: float = Field(description="share of its working time by which the plan may be longer than the best one")
    remarks: tuple[str, ...]
