"""The page in a real browser: it opens, turns, picks, falls back, fits a phone, and asks nobody for anything."""

from __future__ import annotations

import io
import shutil
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import sync_playwright

from trialfit.drawing.look.page import bundle, look_page

PHONE = {"viewport": {"width": 360, "height": 740}, "has_touch": True, "is_mobile": True}


@pytest.fixture(scope="module")
def script():
    found = bundle()
    assert found, "the 3D view is not built: ./test builds it, ./test alone needs a network for that"
    return found


@pytest.fixture(scope="module")
def file(scene, script, tmp_path_factory):
    path = tmp_path_factory.mktemp("page") / "bay.html"
    path.write_text(look_page(scene, script), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def starter():
    program = shutil.which("chromium")
    assert program, "chromium is needed: apt-get install chromium"
    with sync_playwright() as playwright:
        yield lambda *words: playwright.chromium.launch(executable_path=program, args=list(words))


@pytest.fixture(scope="module")
def browser(starter):
    browser = starter()
    yield browser
    browser.close()


class Visit:
    """A page that was opened, with what it asked for and what went wrong in it."""

    def __init__(self, browser, file, **settings):
        self.context = browser.new_context(**settings)
        self.page = self.context.new_page()
        self.asked, self.wrong = [], []
        self.context.on("request", lambda request: self.asked.append(request.url))
        self.page.on("pageerror", lambda error: self.wrong.append(str(error)))
        self.page.on("console", lambda line: self.wrong.append(line.text) if line.type == "error" else None)
        self.page.goto(file.as_uri())

    def picture(self, words="canvas"):
        """What a part of the page shows, once two frames have passed: (height, width, 3)."""
        self.page.evaluate("() => new Promise((then) => requestAnimationFrame(() => requestAnimationFrame(then)))")
        return np.asarray(Image.open(io.BytesIO(self.page.locator(words).screenshot())).convert("RGB")).astype(int)

    def is_seen(self, words):
        """Whether the first such thing is on the page to be seen."""
        return self.page.locator(words).first.is_visible()


@pytest.fixture
def visit(browser, file):
    visits = []

    def start(at=file, **settings):
        visits.append(Visit(browser, at, **settings))
        return visits[-1]

    yield start
    for one in visits:
        one.context.close()


def differ(one, other):
    """The share of the picture's points that changed visibly."""
    return float((np.abs(one - other).max(axis=-1) > 20).mean())


def test_it_opens_and_shows_solids_the_list_and_no_drawings(visit, scene):
    seen = visit()
    picture = seen.picture()

    assert len(np.unique(picture.reshape(-1, 3), axis=0)) > 50
    assert differ(picture, np.broadcast_to(picture[60, 5], picture.shape)) > 0.1
    assert not seen.is_seen(".drawing")
    assert seen.page.locator("[data-gap]").count() == len(scene.marks) == 8
    first = seen.page.locator("[data-gap]").first.inner_text()
    for words in ("1", "sump – rack", "6.7", "mm", "fails", "required 15 mm", "rack rear side"):
        assert words in first
    assert seen.wrong == []


def test_each_gap_has_its_number_over_the_picture(visit, scene):
    numbers = visit().page.locator(".over .number").all_text_contents()

    assert numbers == [str(n) for n in range(1, len(scene.marks) + 1)]


def test_a_drag_a_wheel_a_key_and_every_button_change_what_is_seen(visit):
    seen = visit()
    frame = seen.page.locator("canvas").bounding_box()
    x, y = frame["x"] + frame["width"] / 2, frame["y"] + frame["height"] / 2

    def drag():
        seen.page.mouse.move(x, y)
        seen.page.mouse.down()
        seen.page.mouse.move(x + 120, y + 30, steps=4)
        seen.page.mouse.up()

    ways = {
        "drag": drag,
        "wheel": lambda: seen.page.mouse.wheel(0, -400),
        "key": lambda: seen.page.locator("canvas").press("ArrowLeft"),
        **{
            name: lambda name=name: seen.page.locator(f'[data-do="{name}"]').click()
            for name in ("side", "front", "above", "whole", "nearer", "farther")
        },
    }
    before = seen.picture()
    for name, way in ways.items():
        way()
        after = seen.picture()
        assert differ(before, after) > 0.003, name
        assert len(np.unique(after.reshape(-1, 3), axis=0)) > 50, name
        before = after
    assert seen.wrong == []


def test_a_pick_from_the_list_marks_the_pair_and_a_second_one_lets_go(visit):
    seen = visit()
    whole = seen.picture()
    second = seen.page.locator("[data-gap]").nth(1)
    second.click()

    assert second.get_attribute("aria-current") == "true"
    assert "block – bonnet: 10.2" in seen.page.locator(".told").inner_text()
    assert (
        "unsettled (shown with block rolled with its left side up, lifted)" in seen.page.locator(".told").inner_text()
    )
    assert seen.page.locator(".over .number").all_text_contents() == ["2"]
    assert "mm, unsettled" in seen.page.locator(".over .tag").text_content()
    assert seen.page.locator(".over .gap").get_attribute("stroke-dasharray")
    assert differ(whole, seen.picture()) > 0.05

    second.click()
    assert second.get_attribute("aria-current") is None
    seen.picture()
    assert seen.page.locator(".over .number").count() == 8


def test_the_list_works_by_keyboard(visit):
    seen = visit()
    seen.page.locator("[data-gap]").nth(2).press("Enter")

    assert "block – wall" in seen.page.locator(".told").inner_text()


def test_a_tap_on_a_solid_names_it_and_its_tightest_gap(visit):
    seen = visit()
    seen.page.locator('[data-do="side"]').click()
    seen.picture()
    seen.page.locator("canvas").click()

    assert "its tightest gap: " in seen.page.locator(".told").inner_text()


def test_one_finger_turns_and_two_come_nearer(visit):
    seen = visit(**PHONE)
    fingers = seen.context.new_cdp_session(seen.page)
    frame = seen.page.locator("canvas").bounding_box()
    x, y = frame["x"] + frame["width"] / 2, frame["y"] + frame["height"] / 2

    def touch(kind, *points):
        touched = [{"x": x + right, "y": y + down, "id": n} for n, (right, down) in enumerate(points)]
        fingers.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": touched})

    before = seen.picture()
    touch("touchStart", (0, 0))
    for step in range(1, 6):
        touch("touchMove", (step * 15, step * 3))
    touch("touchEnd")
    turned = seen.picture()
    assert differ(before, turned) > 0.02

    touch("touchStart", (-20, 0), (20, 0))
    for step in range(1, 6):
        touch("touchMove", (-20 - step * 10, 0), (20 + step * 10, 0))
    touch("touchEnd")
    assert differ(turned, seen.picture()) > 0.02
    assert seen.page.evaluate("scrollY") == 0
    assert seen.wrong == []


@pytest.mark.parametrize("width", [320, 360, 768, 1280])
def test_nothing_is_wider_than_the_screen(visit, width):
    seen = visit(viewport={"width": width, "height": 700})
    for _ in range(2):
        assert seen.page.evaluate("document.documentElement.scrollWidth") <= width
        seen.page.locator('[data-do="drawings"]').click()


def test_a_thumb_meets_every_button_and_every_gap(visit):
    seen = visit(**PHONE)
    for one in seen.page.locator("button, [data-gap]").all():
        box = one.bounding_box()
        assert min(box["width"], box["height"]) >= 44


def test_on_a_phone_a_pick_brings_the_picture_into_sight(visit):
    seen = visit(**PHONE)
    seen.page.locator("[data-gap]").nth(6).tap()
    seen.page.wait_for_function("Math.abs(document.querySelector('.view').getBoundingClientRect().top) < 2")


def test_the_drawings_can_be_asked_for_and_left_again(visit):
    seen = visit()
    seen.page.locator('[data-do="drawings"]').click()
    assert seen.is_seen(".drawing")
    assert not seen.is_seen("canvas")
    seen.page.locator("[data-gap]").nth(1).click()
    assert seen.page.locator(".mark.picked").count() == 2

    seen.page.locator('[data-do="drawings"]').click()
    assert seen.is_seen("canvas")
    assert len(np.unique(seen.picture().reshape(-1, 3), axis=0)) > 50


def test_without_webgl_side_view_and_plan_are_shown_and_the_list_picks_in_them(starter, file):
    browser = starter("--disable-3d-apis")
    seen = Visit(browser, file)

    assert seen.page.locator(".drawing").count() == 2
    assert seen.is_seen(".drawing")
    assert not seen.is_seen("canvas")
    assert "WebGL is off" in seen.page.locator(".why").inner_text()
    seen.page.locator("[data-gap]").nth(3).click()
    assert seen.page.locator(".mark.picked").count() == 2
    browser.close()


def test_without_javascript_side_view_plan_and_list_are_shown(visit):
    seen = visit(java_script_enabled=False)

    assert seen.is_seen(".drawing")
    assert seen.is_seen("[data-gap]")
    assert not seen.is_seen("canvas")


def test_where_the_browser_takes_the_3d_view_away_the_drawings_come(visit):
    """A phone does so when its memory runs short."""
    seen = visit()
    seen.page.evaluate(
        "document.querySelector('canvas').getContext('webgl2').getExtension('WEBGL_lose_context').loseContext()"
    )
    seen.page.locator(".drawing").first.wait_for()

    assert not seen.is_seen("canvas")
    assert "stopped the 3D view" in seen.page.locator(".why").inner_text()


def test_on_paper_the_drawings_stand(visit):
    seen = visit()
    seen.page.emulate_media(media="print")

    assert seen.is_seen(".drawing")
    assert not seen.is_seen("canvas")


def test_it_asks_nobody_for_anything(visit, file):
    seen = visit()
    for gap in seen.page.locator("[data-gap]").all():
        gap.click()

    assert seen.asked == [file.as_uri()]


def test_a_name_from_a_stranger_s_build_stays_a_name(visit, scene, script, tmp_path):
    """Markup in a name is shown as it stands: it runs nothing, loads nothing and ends no element."""
    evil = "</script><script>window.ran=1</script><img src=http://127.0.0.1:9/x onerror=window.ran=1>\"'&"
    marks = tuple(replace(mark, moving=evil, moved={}) for mark in scene.marks)
    bodies = tuple(replace(body, name=evil) if body.name == "sump" else body for body in scene.bodies)
    at = tmp_path / "evil.html"
    at.write_text(look_page(replace(scene, title=evil, bodies=bodies, marks=marks, notes=(evil,)), script), "utf-8")

    seen = visit(at)

    assert seen.page.evaluate("window.ran === undefined")
    assert evil in seen.page.locator("h1").inner_text()
    assert seen.asked == [at.as_uri()]
    assert seen.is_seen("canvas")


def test_a_scene_without_solids_says_so_and_breaks_nothing(visit, scene, script, tmp_path):
    at = tmp_path / "empty.html"
    at.write_text(look_page(replace(scene, bodies=(), marks=(), says="Nothing can be drawn."), script), "utf-8")

    seen = visit(at)

    assert "Nothing can be drawn." in seen.page.locator("header").inner_text()
    assert not seen.is_seen("canvas")
    assert seen.wrong == []
