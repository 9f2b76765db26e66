"""Cars of many sorts for checks by another route: one build whose facts have wide limits, and each draw of it is a car.

The figures of a car are read back fact by fact; what becomes of them is worked out in the tests, without the handbook.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from trialfit.book import read_text
from trialfit.book.build import Build
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.limits import held_against
from trialfit.evaluation.requirement import Requirement
from trialfit.evaluation.states import InStates, as_states
from trialfit.subjects.gearing import requirements

G = 9.80665
RPM = np.pi / 30
CURVE = ((900, 0.55), (1500, 0.75), (2100, 0.88), (2800, 0.97), (3600, 1.0), (4500, 0.95), (5400, 0.84), (6200, 0.70))
"""Engine speeds, rpm, and shares of the peak torque."""

LAYOUTS = {
    "rear, independent": 'driven_axle = "rear"\nrear_suspension = "independent"',
    "rear, open live axle": 'driven_axle = "rear"\nrear_suspension = "live axle"',
    "front": 'driven_axle = "front"\nrear_suspension = "independent"',
    "all": 'driven_axle = "all"\nrear_suspension = "independent"',
}


@dataclass(frozen=True)
class Cars:
    """The draws of one layout: figures by the path of their fact, and what the program makes of them."""

    build: Build
    ev: Evaluation

    def __getitem__(self, path: str) -> np.ndarray:
        """The draws of a fact, SI."""
        part, _, name = path.partition(".")
        return self.ev(getattr(self.build.parts[part], name))

    def driven_radius(self, draw: int) -> float:
        """Rolling radius of the tyres that drive, m."""
        axle = "front" if self.build.parts["car"].driven_axle == "front" else "rear"
        return float(self[f"{axle}_tyre.circumference"][draw]) / (2 * np.pi)

    def requirement(self, identifier: str) -> Requirement:
        """One requirement of the build."""
        return next(one for one in requirements(self.build) if one.id == identifier)

    def value(self, identifier: str) -> InStates:
        """Its value in each load state, every draw."""
        return as_states(self.requirement(identifier).value(self.ev), self.ev.draws)

    def keeps(self, identifier: str) -> np.ndarray:
        """Whether each draw keeps its limit in the worst state."""
        (held,) = held_against(self.ev, self.requirement(identifier), self.value(identifier))
        return np.asarray(held.margin >= 0)


def cars(layout: str, *, grade: str, peak: str, draws: int, tyres: str = "", final: str = "3.8 ± 0.5") -> Cars:
    """Cars of one layout: `grade` and `peak` put the limit in the middle of them."""
    peak_value = float(peak.split(maxsplit=1)[0])
    curve = " | ".join(f"{rpm} : {share * peak_value:.3f}" for rpm, share in CURVE)
    text = f"""
[car]
{LAYOUTS[layout]}
mass = "1300 ± 150 kg, manual"
rear_axle_mass = "620 ± 70 kg, manual"
laden_mass = "1950 ± 200 kg, manual"
load_on_rear = "75 ± 25 %, manual"
driver_only_mass = "1120 ± 25 kg, manual"
trailer_mass = "900 ± 500 kg, manual"
nose_share = "6 ± 3 %, manual"
ball_overhang = "1.0 ± 0.3 m, manual"
wheelbase = "2.6 ± 0.3 m, manual"
rear_track = "1.45 ± 0.1 m, manual"
front_roll_share = "60 ± 20 %, manual"
centre_of_mass_height = "0.55 ± 0.12 m, manual"
drag_area = "0.8 ± 0.3 m², manual"
rolling_coefficient = "0.014 ± 0.005, manual"
air_density = "1.2 ± 0.1 kg/m³, manual"
tyre_friction = "0.75 ± 0.25, manual"
hill_grade = "{grade}"
[engine]
torque_curve = "rpm : N·m ± {peak.partition("± ")[2]} %, manual | {curve}"
curve_bulge = "0 ± 0 %"
max_speed = "5900 ± 250 rpm, manual"
launch_speed = "2200 ± 900 rpm, manual"
[clutch]
[gearbox]
ratios = ["3.5 ± 0.5, manual", "2.0 ± 0.2, manual", "1.4 ± 0.1, manual", "1.0 ± 0.1, manual", "0.80 ± 0.06, manual"]
efficiency = "95 ± 3 %, manual"
[final_drive]
ratio = "{final}, manual"
efficiency = "96 ± 2 %, manual"
differential = "open"
[front_tyre]
kind = "tyre"
axle = "front"
circumference = "1.9 ± 0.15 m, manual"
{tyres}
[rear_tyre]
kind = "tyre"
axle = "rear"
circumference = "1.9 ± 0.15 m, manual"
{tyres}
[speedometer]
original_final_drive = "4.1 ± 0.6, manual"
original_circumference = "1.85 ± 0.15 m, manual"
drive_factor = "1.0 ± 0.1, manual"
original_over_reading = "4 ± 4 %, manual"
"""
    build = read_text(text)
    return Cars(build, Evaluation(build, draws))


def torque(cars_of: Cars, draw: int, speed: float, peak: float) -> float:
    """Full-load torque of one draw at an engine speed, N·m, straight lines between the points."""
    curve = cars_of.ev.curve(cars_of.build.parts["engine"].torque_curve)
    return float(
        np.interp(speed, [rpm * RPM for rpm, _ in CURVE], [share * peak for _, share in CURVE]) * curve.scale[draw]
    )
