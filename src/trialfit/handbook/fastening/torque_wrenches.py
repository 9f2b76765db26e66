"""The torque wrench: its setting with an adapter, and its usable range.

Answers   setting_with_adapter   what the scale must show for a torque at the bolt
          torque_with_adapter    what the bolt gets for what the scale shows
          usable_range           of a wrench by its largest reading
Not here  torque for a preload (fasteners.py)
Symbols   T torque at the bolt, S setting, L drive square to the middle of the hand, E drive square to the bolt, a angle of the
          adapter from straight on
Sources   [1] torque-wrench manual (in line); army technical manual TM 9-254 (angled)
          [2] ISO 6789: tested at 20, 60 and 100 % of full scale, ±4 % above 10 N·m; from memory
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

USABLE_FROM = 0.2
"""Smallest usable reading over the largest [2], from memory."""


def setting_with_adapter(torque: Numbers, length: Numbers, extension: Numbers, angle: Numbers = 0.0) -> Numbers:
    """Setting of the scale for a torque at the bolt, with a crow-foot or another adapter on the drive.

        S = T·L/(L + E·cos a)

    torque      T, wanted at the bolt                          N·m    ≥ 0
    length      L, drive square to the middle of the hand      m      > 0
    extension   E, drive square to the middle of the bolt      m      ≥ 0
    angle       a, from straight on; 90° corrects nothing      rad
    returns     S                                              N·m    nan where L + E·cos a is not positive

    The hand must stay on its mark. A socket extension along the bolt's own axis changes nothing.
    Source: torque-wrench manual; army technical manual TM 9-254 for the angle.

    >>> f"{setting_with_adapter(50.0, 16.0, 2.0):.2f}"
    '44.44'
    """
    torque, length, extension, angle = as_floats(torque, length, extension, angle)
    whole = length + extension * np.cos(angle)
    sound = (torque >= 0) & (length > 0) & (extension >= 0) & (whole > 0)
    return where(sound, torque * length / np.where(sound, whole, 1.0))


def torque_with_adapter(setting: Numbers, length: Numbers, extension: Numbers, angle: Numbers = 0.0) -> Numbers:
    """What the bolt gets for what the scale shows, with an adapter on the drive.

        T = S·(L + E·cos a)/L

    setting     S                                              N·m    ≥ 0
    length      L, drive square to the middle of the hand      m      > 0
    extension   E, drive square to the middle of the bolt      m      ≥ 0
    angle       a, from straight on                            rad
    returns     T                                              N·m    nan where L + E·cos a is not positive

    Source: torque-wrench manual; army technical manual TM 9-254 for the angle.

    >>> f"{torque_with_adapter(50.0, 16.0, 2.0):.2f}"
    '56.25'
    """
    setting, length, extension, angle = as_floats(setting, length, extension, angle)
    whole = length + extension * np.cos(angle)
    sound = (setting >= 0) & (length > 0) & (extension >= 0) & (whole > 0)
    return where(sound, setting * whole / np.where(sound, length, 1.0))


def usable_range(largest: Numbers) -> tuple[Numbers, Numbers]:
    """Smallest and largest usable reading.

        20 % of full scale to full scale

    largest    full scale     N·m    > 0
    returns    both           N·m    nan outside that range

    Wrenches are not tested below a fifth of full scale. Source: ISO 6789, from memory.

    >>> usable_range(200.0)
    (np.float64(40.0), np.float64(200.0))
    """
    (largest,) = as_floats(largest)
    return where(largest > 0, USABLE_FROM * largest), where(largest > 0, largest)
