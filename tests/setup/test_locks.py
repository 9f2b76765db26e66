"""The locks: complete, consistent, with hashes, and free of addresses, so that any mirror of the index will do."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement

ROOT = Path(__file__).parents[2]
LOCKS = [
    *("requirements.lock", "requirements-step.lock", "requirements-test.lock"),
    *("setup/installer.lock", "setup/browser/node.lock"),
]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())


def pinned(lock):
    """Requirement line and its hashes, for every package in a lock."""
    text = (ROOT / lock).read_text().replace("\\\n", " ")
    lines = [line.split("--hash=") for line in text.splitlines() if line and not line.startswith("#")]
    return {line[0].strip(): {one.strip() for one in line[1:]} for line in lines}


@pytest.mark.parametrize("lock", LOCKS)
def test_every_package_is_pinned_by_version_and_hash(lock):
    for line, hashes in pinned(lock).items():
        requirement = Requirement(line)
        assert re.fullmatch(r"==[^*]+", str(requirement.specifier)), line
        assert requirement.url is None
        assert hashes, line
        assert all(re.fullmatch(r"sha256:[0-9a-f]{64}", one) for one in hashes), line


@pytest.mark.parametrize("lock", LOCKS)
def test_no_lock_names_an_address(lock):
    assert not re.search(r"://|--(index|extra-index|find-links|trusted)", (ROOT / lock).read_text())


@pytest.mark.parametrize(("smaller", "larger"), [("", "-step"), ("-step", "-test")])
def test_a_larger_lock_holds_the_smaller_one_as_it_is(smaller, larger):
    """Both go into one environment: they must not push each other's versions out."""
    held, whole = pinned(f"requirements{smaller}.lock"), pinned(f"requirements{larger}.lock")

    assert {line: whole.get(line) for line in held} == held


@pytest.mark.parametrize("lock", ["requirements.lock", "requirements-step.lock"])
def test_what_no_module_of_ours_uses_is_left_out(lock):
    names = {Requirement(line).name for line in pinned(lock)}

    assert not names & set(PROJECT["tool"]["uv"]["exclude-dependencies"])


def test_the_reader_of_step_drawings_is_an_extra():
    """It weighs a fifth of all else."""
    assert not any(line.startswith("cascadio") for line in pinned("requirements.lock"))
    assert any(line.startswith("cascadio") for line in pinned("requirements-step.lock"))


@pytest.mark.parametrize(
    ("lock", "wanted"),
    [
        ("requirements.lock", PROJECT["project"]["dependencies"]),
        ("requirements-test.lock", PROJECT["project"]["dependencies"] + PROJECT["dependency-groups"]["test"]),
    ],
)
def test_what_the_project_asks_for_is_locked_in_a_version_it_takes(lock, wanted):
    """A dependency that was written down and not locked would be missing only on a fresh machine."""
    pins = [Requirement(line) for line in pinned(lock)]
    for requirement in map(Requirement, wanted):
        versions = [str(pin.specifier).removeprefix("==") for pin in pins if pin.name == requirement.name]
        assert versions, requirement
        assert all(requirement.specifier.contains(version) for version in versions), (requirement, versions)


def test_what_the_3d_view_is_made_of_is_pinned_by_version_and_hash_and_names_no_address():
    """Unless it is told not to, npm writes addresses into its lock."""
    lock = (ROOT / "setup/browser/package-lock.json").read_text()
    packages = {name: one for name, one in json.loads(lock)["packages"].items() if name}

    assert "://" not in lock
    assert {"node_modules/three", "node_modules/esbuild"} <= set(packages)
    assert all(re.fullmatch(r"[0-9.]+", one["version"]) for one in packages.values())
    assert all(one["integrity"].startswith("sha512-") for one in packages.values())


def test_npm_is_told_to_keep_addresses_out_of_its_lock():
    assert (ROOT / "setup/browser/.npmrc").read_text() == "omit-lockfile-registry-resolved=true\n"
