"""The fields of a pattern reach the technical edit, each with a place of its own and its number as kept."""

from collections.abc import Callable

from craft.fabric.model import Verdict
from craft.techedit import not_checked
from patterns.checking import Checked, Remark, check
from patterns.models import Kind, Notion, Pattern, PatternSize, PatternYarn
from patterns.selectors import source_of
from patterns.sheet import sheet_of
from tests.patterns.examples import DISC, THREE_SIZES
from yarns.models import Yarn

Make = Callable[..., Pattern]


def checked(pattern: Pattern) -> Checked:
    pattern.refresh_from_db()
    found = check(source_of(pattern), pattern.terms)
    assert not found.broken
    return found


def remarks(pattern: Pattern, slug: str) -> list[Remark]:
    return [remark for remark in checked(pattern).remarks if remark.check == slug]


def left_out(found: Checked) -> set[str]:
    assert found.draft is not None
    assert found.fabric is not None
    return {each.check for each in not_checked(found.draft, found.fabric, found.facts)}


def test_numbers_of_the_fields_come_as_they_are_kept(full_pattern: Pattern) -> None:
    facts = checked(full_pattern).facts
    assert facts is not None
    assert [hook.mm for hook in facts.hooks] == [5.0]
    gauge = facts.gauge
    assert gauge is not None
    assert (gauge.stitches, gauge.rows, gauge.width_cm, gauge.stitch) == (14.0, 16.0, 10.0, "sc")
    (yarn,) = facts.yarns
    assert (yarn.label, yarn.colour, yarn.grams, yarn.metres) == ("A", "Harbour", 100.0, 190.0)
    assert [(fibre.name, fibre.percent) for fibre in yarn.fibres] == [("wool", 80.0), ("nylon", 20.0)]
    assert [(m.name, m.cm) for m in facts.measures] == [("finished", (1.0, 2.0, 3.0))]


def test_checks_that_lacked_a_fact_are_made(make_pattern: Make, full_pattern: Pattern) -> None:
    bare = left_out(checked(make_pattern()))
    full = left_out(checked(full_pattern))
    assert {"gauge-incomplete", "hook-not-listed", "colour-not-listed", "measure-falls"} <= bare - full


def test_counts_and_places_of_the_text_do_not_move(make_pattern: Make, full_pattern: Pattern) -> None:
    bare = checked(make_pattern(text=THREE_SIZES))
    full = checked(full_pattern)
    assert [count.line for count in full.rounds] == [count.line for count in bare.rounds]
    assert full.rounds[-1].totals == (12, 16, 20)
    assert full.rounds[-1].verdict is Verdict.AGREES


def test_a_colour_that_no_field_lists(full_pattern: Pattern) -> None:
    text = THREE_SIZES + "Rnd 3: With C, sc in each st around.\n"
    Pattern.objects.filter(pk=full_pattern.pk).update(text=text)
    (remark,) = remarks(full_pattern, "colour-not-listed")
    assert remark.field == "text"
    assert "has only A" in remark.says


def test_a_remark_about_a_field_names_the_field(make_pattern: Make) -> None:
    pattern = make_pattern(hook_um=5000, gauge_stitches_tenths=160)
    text = f"{DISC}Rnd 4: Hdc in each st around. (18 sts)\n"
    Pattern.objects.filter(pk=pattern.pk).update(text=text)
    (remark,) = remarks(pattern, "gauge-incomplete")
    assert (remark.field, remark.rewrite) == ("gauge", None)
    assert "16 sts = 10 cm (4 in)" in remark.says


def test_sizes_whose_measurements_fall(full_pattern: Pattern) -> None:
    PatternSize.objects.filter(pattern=full_pattern, label="L").update(finished="1.5 cm")
    (remark,) = remarks(full_pattern, "measure-falls")
    assert remark.field.startswith("finished:")


def test_measurements_told_unlike_in_each_size_are_not_compared(full_pattern: Pattern) -> None:
    PatternSize.objects.filter(pattern=full_pattern, label="L").update(finished="3 in tall")
    assert "measure-falls" in left_out(checked(full_pattern))


def test_a_notion_of_the_fields_is_used_in_the_finishing(make_pattern: Make) -> None:
    pattern = make_pattern()
    Notion.objects.create(pattern=pattern, text="wooden button, 20 mm", quantity=2)
    (remark,) = remarks(pattern, "notion-not-used")
    assert remark.field == "notion:0"
    Pattern.objects.filter(pk=pattern.pk).update(finishing="Sew on both buttons.")
    assert remarks(pattern, "notion-not-used") == []


def test_what_stands_in_the_finishing_is_not_worked(make_pattern: Make) -> None:
    pattern = make_pattern(finishing="Rnd 4: Sc in each st around. (99 sts)")
    found = checked(pattern)
    assert len(found.rounds) == 3
    assert found.blocking == ()


def test_heat_in_the_care_against_the_fibre_of_the_shelf(make_pattern: Make, yarn: Yarn) -> None:
    Yarn.objects.filter(pk=yarn.pk).update(fibres=[["acrylic", 1000]])
    pattern = make_pattern(finishing="Steam block to shape.")
    PatternYarn.objects.create(pattern=pattern, key="A", yarn=yarn)
    (remark,) = remarks(pattern, "heat-against-fibre")
    assert remark.field == "finishing"
    Pattern.objects.filter(pk=pattern.pk).update(finishing="Pin out.", care="Do not iron.")
    assert remarks(pattern, "heat-against-fibre") == []


def test_the_kind_of_piece_is_known_without_a_title(make_pattern: Make) -> None:
    pattern = make_pattern(title="Tern", kind=Kind.HAT, notes="Turn the sleeve right side out.")
    (remark,) = remarks(pattern, "word-of-another-piece")
    assert (remark.field, remark.start) == ("notes", 9)


def test_one_yarn_need_not_be_named_in_the_text(make_pattern: Make, yarn: Yarn) -> None:
    pattern = make_pattern()
    PatternYarn.objects.create(pattern=pattern, key="A", yarn=yarn)
    assert remarks(pattern, "colour-not-used") == []
    PatternYarn.objects.create(pattern=pattern, key="B", yarn=yarn, position=1)
    assert {remark.field for remark in remarks(pattern, "colour-not-used")} == {"yarn:A", "yarn:B"}


def test_the_sheet_names_the_field_and_what_it_says(make_pattern: Make, yarn: Yarn) -> None:
    pattern = make_pattern(small_parts=False)
    Notion.objects.create(pattern=pattern, text="safety eyes, 9 mm", quantity=2)
    sheet = sheet_of(pattern)
    (denied,) = [row for row in sheet.found if row.remark.check == "small-parts-denied"]
    assert (denied.where, denied.line) == ("notions", "Notions: 2 safety eyes, 9 mm")
    assert "hook-not-listed" in {each.page.slug for each in sheet.omitted}
    Pattern.objects.filter(pk=pattern.pk).update(hook_um=4000)
    pattern.refresh_from_db()
    assert "hook-not-listed" not in {each.page.slug for each in sheet_of(pattern).omitted}


def test_a_remark_of_a_field_stays_aside_until_that_field_changes(make_pattern: Make) -> None:
    pattern = make_pattern()
    notion = Notion.objects.create(pattern=pattern, text="wooden button, 20 mm", quantity=2)
    (remark,) = remarks(pattern, "notion-not-used")
    reasons = [(remark.check, remark.words, "told on the page")]
    assert remark.key in {each.key for each in check(source_of(pattern), "us", reasons).set_aside}
    Notion.objects.filter(pk=notion.pk).update(text="wooden button, 25 mm")
    assert "notion-not-used" in {each.check for each in check(source_of(pattern), "us", reasons).open_remarks}
