"""`mesh --into`: where the build is not written, no file of the part is left, and an old one stays as it was."""

from __future__ import annotations

import pytest
import trimesh

POINTS = (
    "6 | 4 | 2 = 152.4 mm | 101.6 mm | 50.8 mm",
    "-6 | 4 | 2 = -152.4 mm | 101.6 mm | 50.8 mm",
    "6 | -4 | -2 = 152.4 mm | -101.6 mm | -50.8 mm",
)


@pytest.fixture
def mesh(trialfit, tmp_path):
    """Brings a box in as a part of a build."""
    trimesh.creation.box((12, 8, 4)).export(tmp_path / "box.stl")

    def run(into, *more, part="sump"):
        points = [word for point in POINTS for word in ("--point", point)]
        return trialfit("mesh", tmp_path / "box.stl", "--for", part, *points, "--pieces", 1, "--into", into, *more)

    return run


@pytest.fixture(params=["m.toml", "g.book"])
def build(request, trialfit, tmp_path):
    """A build of a car, in TOML and as a book."""
    file = tmp_path / request.param
    (tmp_path / "m.toml").write_text('[car]\nmass = "960 kg"\n')
    if request.param == "g.book":
        assert trialfit("new", file, "--from", tmp_path / "m.toml").code == 0
    return file


def test_a_refused_part_leaves_no_file(mesh, build, tmp_path):
    before = build.read_bytes()
    ran = mesh(build, "--fixed-to", "moon")

    assert ran.code == 2
    assert "sump.fixed_to" in ran.err
    assert not (tmp_path / "sump.solid.json").exists()
    assert build.read_bytes() == before


def test_a_refused_part_leaves_the_old_file_as_it_was(mesh, build, tmp_path):
    file = tmp_path / "sump.solid.json"
    file.write_bytes(b'{"of": "an earlier scan"}')

    assert mesh(build, "--fixed-to", "moon").code == 2
    assert file.read_bytes() == b'{"of": "an earlier scan"}'


def test_a_build_that_is_not_there_leaves_no_file(mesh, tmp_path):
    assert mesh(tmp_path / "none.toml").code == 2
    assert not (tmp_path / "sump.solid.json").exists()


@pytest.mark.parametrize("build", ["m.toml"], indirect=True)
def test_a_build_that_cannot_be_written_leaves_no_file(mesh, build, tmp_path, monkeypatch):
    """The last step fails, after the file of the part was written."""

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("trialfit.book.rewriting.write_whole", full)
    assert mesh(build).code == 2
    assert not (tmp_path / "sump.solid.json").exists()


@pytest.mark.parametrize("build", ["g.book"], indirect=True)
def test_the_same_part_again_writes_its_file_anew(mesh, build, tmp_path):
    """Nothing changes in the build then."""
    assert mesh(build).code == 0
    file = tmp_path / "sump.solid.json"
    file.unlink()

    assert mesh(build).code == 0
    assert file.exists()


@pytest.mark.parametrize("build", ["m.toml"], indirect=True)
@pytest.mark.parametrize("part", ["", "a/b", "1st"])
def test_a_name_that_no_part_can_have_is_refused_at_once(mesh, build, tmp_path, part):
    ran = mesh(build, part=part)

    assert ran.code == 2
    assert f'--for is "{part}", not a valid part name' in ran.err
    assert not list(tmp_path.glob("**/*.solid.json"))
