"""The designer's way in a real browser: write, check, mend, set aside, save, publish; and the reader's."""

from collections.abc import Callable
from io import BytesIO

import pikepdf
import pytest
from playwright.sync_api import Page, expect

from patterns.models import Pattern, Revision
from tests.patterns.examples import DISC, DISC_WRONG, picture
from workroom.models import Person

EDITOR = "/desk/patterns/small-disc/"


@pytest.fixture
def desk(page: Page, sign_in_as: Callable[[Page, Person], None], designer: Person, studio: object) -> Page:
    sign_in_as(page, designer)
    return page


@pytest.fixture
def editor(desk: Page, pattern: Pattern) -> Page:
    desk.goto(EDITOR)
    return desk


def write(page: Page, text: str) -> None:
    """Replace the words of the field as typing does, and wait for the check's answer."""
    with page.expect_response(lambda answer: answer.url.endswith("/check/")):
        page.locator("#text").fill(text)


@pytest.mark.django_db(transaction=True)
def test_from_a_title_to_the_page_and_the_paper(desk: Page, live_url: str) -> None:
    desk.goto("/desk/patterns/new/")
    desk.get_by_label("Title").fill("Rope Mat")
    desk.get_by_role("button", name="Begin").click()
    write(desk, DISC)
    expect(desk.locator("#gutter li.agrees")).to_have_text(["6", "12", "18"])
    desk.get_by_role("button", name="Save").click()
    expect(desk.locator(".message.success")).to_have_text("Saved.")
    desk.get_by_role("link", name="Facts").click()
    desk.get_by_label("Introduction").fill("A round mat of rope.")
    desk.get_by_label("Hook").fill("6")
    desk.get_by_role("button", name="Save").click()
    desk.get_by_role("link", name="Photos").click()
    desk.get_by_label("Photo", exact=True).set_input_files(
        {"name": "mat.jpg", "mimeType": "image/jpeg", "buffer": picture()}
    )
    desk.locator("aside").get_by_label("What the photo shows").fill("A round mat.")
    desk.get_by_role("button", name="Add").click()
    desk.get_by_role("link", name="Publish").click()
    desk.get_by_role("button", name="Publish", exact=True).click()
    expect(desk.locator(".message.success")).to_have_text("Version 1.0.0 is out.")
    desk.get_by_role("link", name="On the site: 1.0.0").click()
    expect(desk.get_by_role("heading", name="Rope Mat")).to_be_visible()
    expect(desk.locator(".rounds li")).to_have_count(3)
    address = desk.get_by_role("link", name="Print it (PDF)").get_attribute("href")
    answer = desk.request.get(f"{live_url}{address}")
    with pikepdf.open(BytesIO(answer.body())) as pdf:
        assert pdf.docinfo.Title == "Rope Mat"


@pytest.mark.django_db(transaction=True)
def test_counts_stand_beside_their_lines_as_one_types(editor: Page) -> None:
    expect(editor.locator("#gutter li.agrees")).to_have_text(["6", "12", "18"])
    long = "Note: " + "this remark goes on over many lines of the field. " * 10
    write(
        editor,
        f"{long}\nDisc\nRnd 1: 6 sc in a magic ring. (6 sts)\nRnd 2: 2 sc in each st around. (12 sts)\n",
    )
    expect(editor.locator("#gutter li.agrees").last).to_have_text("12")
    boxes = editor.evaluate(
        """() => ["#mirror .line", "#gutter li"].map(
            (each) => Array.from(document.querySelectorAll(each),
                (box) => box.getBoundingClientRect().top))"""
    )
    lines, counts = boxes
    assert len(lines) == len(counts) == 5
    assert all(abs(line - count) < 2 for line, count in zip(lines, counts, strict=True))
    mirror, field = editor.evaluate(
        """() => ["#mirror", "#text"].map((each) => document.querySelector(each).scrollHeight)"""
    )
    assert abs(mirror - field) < 30, "the marks lie under their words"


@pytest.mark.django_db(transaction=True)
def test_a_suggestion_is_put_in_by_one_press_and_undone(editor: Page, pattern: Pattern) -> None:
    write(editor, DISC_WRONG)
    expect(editor.locator("#gutter li.differs")).to_have_text("18")
    expect(editor.locator("#mirror mark.must-mend").first).to_contain_text("19")
    editor.get_by_role("button", name="Put it in").first.click()
    expect(editor.locator("#text")).to_have_value(DISC)
    editor.get_by_role("button", name="Undo").click()
    expect(editor.locator("#text")).to_have_value(DISC_WRONG)
    pattern.refresh_from_db()
    assert pattern.text == DISC


@pytest.mark.django_db(transaction=True)
def test_the_keyboard_goes_from_remark_to_remark(editor: Page) -> None:
    write(editor, DISC_WRONG.replace("(12 sts)", "(13 sts)"))
    expect(editor.locator("#gutter li.differs").first).to_be_visible()
    lines = []
    for key in ("F8", "F8", "Shift+F8"):
        editor.keyboard.press(key)
        lines.append(
            editor.evaluate(
                """() => { const field = document.getElementById("text");
                return field.value.slice(0, field.selectionStart).split("\\n").length; }"""
            )
        )
    assert lines == [3, 4, 3]
    expect(editor.locator(".remark.current")).to_have_count(1)


@pytest.mark.django_db(transaction=True)
def test_a_remark_is_set_aside_and_counts_again(editor: Page, pattern: Pattern) -> None:
    write(editor, DISC_WRONG)
    remark = editor.locator(".remark.must-mend").first
    remark.locator("summary").click()
    remark.get_by_label("Why it may stay").fill("one more by the join")
    remark.get_by_role("button", name="Set aside").click()
    expect(editor.get_by_text("1 remark set aside")).to_be_visible()
    assert pattern.set_aside.count() == 1
    editor.get_by_text("1 remark set aside").click()
    editor.get_by_role("button", name="Count it again").click()
    expect(editor.locator(".remark.must-mend").first).to_be_visible()
    assert pattern.set_aside.count() == 0


@pytest.mark.django_db(transaction=True)
def test_words_that_were_never_saved_are_kept_in_the_browser(editor: Page) -> None:
    write(editor, "Rnd 1: my unsaved words")
    editor.goto("/desk/")
    editor.goto(EDITOR)
    expect(editor.locator("#text")).to_have_value(DISC)
    editor.get_by_role("button", name="Bring them back").click()
    expect(editor.locator("#text")).to_have_value("Rnd 1: my unsaved words")
    editor.get_by_role("button", name="Save").click()
    expect(editor.locator(".message.success")).to_be_visible()
    editor.goto(EDITOR)
    expect(editor.get_by_role("button", name="Bring them back")).to_be_hidden()


@pytest.mark.django_db(transaction=True)
def test_counts_of_one_size_on_demand(desk: Page, full_pattern: Pattern) -> None:
    desk.goto("/desk/patterns/net-band/")
    expect(desk.locator("#gutter li.agrees")).to_have_text(["6 · 8 · 10", "12 · 16 · 20"])
    desk.get_by_label("Counts of").select_option("M")
    expect(desk.locator("#gutter li.agrees")).to_have_text(["8", "16"])


@pytest.mark.django_db(transaction=True)
def test_without_scripts_the_check_button_does_the_same(
    open_page: Callable[..., Page],
    sign_in_as: Callable[[Page, Person], None],
    designer: Person,
    pattern: Pattern,
) -> None:
    page = open_page(script=False)
    sign_in_as(page, designer)
    page.goto(EDITOR)
    page.locator("#text").fill(DISC_WRONG)
    page.get_by_role("button", name="Check").click()
    expect(page.locator(".remark.must-mend")).to_have_count(1)
    page.get_by_role("button", name="Put it in").click()
    expect(page.locator("#text")).to_have_value(DISC)
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#text")).to_have_value(DISC_WRONG)
    page.get_by_role("button", name="Save").click()
    expect(page.locator(".message.success")).to_be_visible()


@pytest.mark.django_db(transaction=True)
def test_a_size_is_switched_without_scripts(open_page: Callable[..., Page], published: Revision) -> None:
    page = open_page(script=False)
    page.goto("/p/net-band/")
    page.get_by_role("link", name="L", exact=True).click()
    expect(page.locator(".round-count")).to_have_text(["10 sts", "20 sts"])


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(("width", "dark"), [(390, True), (1280, False)])
def test_public_pages_are_open_to_everybody(
    open_page: Callable[..., Page],
    assert_accessible: Callable[[Page], None],
    assert_fits: Callable[[Page], None],
    published: Revision,
    width: int,
    dark: bool,
) -> None:
    page = open_page(width=width, dark=dark)
    for address in ("/", "/p/net-band/", "/p/net-band/?size=m"):
        page.goto(address)
        assert_accessible(page)
        assert_fits(page)


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(("width", "dark"), [(390, True), (1280, False)])
def test_the_desk_is_open_to_everybody(
    open_page: Callable[..., Page],
    sign_in_as: Callable[[Page, Person], None],
    assert_accessible: Callable[[Page], None],
    assert_fits: Callable[[Page], None],
    full_pattern: Pattern,
    designer: Person,
    width: int,
    dark: bool,
) -> None:
    Pattern.objects.filter(pk=full_pattern.pk).update(
        text=full_pattern.text.replace("(12 (16, 20)", "(12 (16, 21)")
    )
    page = open_page(width=width, dark=dark)
    sign_in_as(page, designer)
    for tab in ("", "facts/", "materials/", "photos/", "publish/", "preview/"):
        page.goto(f"/desk/patterns/net-band/{tab}")
        assert_accessible(page)
        assert_fits(page)
