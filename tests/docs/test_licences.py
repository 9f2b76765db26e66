"""Every package the command runs on is free for every use, and the manual says under which licence."""

from __future__ import annotations

from email.message import Message

import pytest
from generating import licences


def test_every_package_has_a_permitted_licence():
    assert licences.unpermitted() == []


def test_the_page_is_what_is_installed():
    """Out of date: `.setup/venv/bin/python docs/generating/licences.py`."""
    assert licences.PAGE.read_text(encoding="utf-8") == licences.licence_page()


@pytest.mark.parametrize(
    ("fields", "licence", "says"),
    [
        ({"License-Expression": "MIT AND (Apache-2.0 OR GPL-3.0-only)"}, None, ["GPL-3.0-only"]),
        ({"Classifier": "License :: OSI Approved :: GNU Lesser General Public License v3 (LGPLv3)"}, None, ["LGPLv3"]),
        ({"License": "free for non-commercial use"}, None, ["non-commercial"]),
        ({}, None, ["no licence"]),
        ({"License-Expression": "MIT OR Apache-2.0"}, "MIT OR Apache-2.0", []),
        ({"Classifier": "License :: OSI Approved :: BSD License"}, "BSD", []),
        ({"License": "The MIT License (MIT)\n\nCopyright"}, "MIT", []),
    ],
)
def test_a_licence_that_is_not_on_the_list_is_refused(monkeypatch, fields, licence, says):
    message = Message()
    for name, value in fields.items():
        message[name] = value
    monkeypatch.setattr(licences, "metadata", lambda _: message)

    found = licences.unpermitted(["some-package"])

    assert len(found) == len(says)
    assert all(word in sentence for word, sentence in zip(says, found, strict=True))
    assert licence is None or licences.licence_of("some-package") == licence


def test_what_is_said_of_a_package_without_need_is_refused(monkeypatch):
    """A package that declares its licence by now, and one that has gone."""
    monkeypatch.setattr(
        licences, "SAID", {"numpy": ("MIT", "by hand"), "vhacdx": licences.SAID["vhacdx"], "gone": ("MIT", "")}
    )

    found = licences.unpermitted()

    assert any(one.startswith("numpy declares") for one in found)
    assert "gone is spoken of and is no package of the command" in found
