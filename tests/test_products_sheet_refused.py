"""What a product sheet may not say: told with its line and key."""

import re

import pytest
from product_sheets import LINES, TEXT, refused, without

from shadecore.products.product import KINDS
from shadecore.products.product import OPTIONAL as OPTIONAL_KINDS
from shadecore.products.sheet_file import parse_sheet


def changed(line: int, by: str) -> str:
    return "\n".join([*LINES[: line - 1], by, *LINES[line:]])


KEY = re.compile(r"([a-z0-9_]+)\s*=\s*(.*?)\s*(?:#.*)?")
# Once a key: the same ones come back in each product.
LAST_LINES = {
    found[1]: number
    for number, line in enumerate(LINES, 1)
    if (found := KEY.fullmatch(line))
}
PLAIN_LINES = [pytest.param(line, key, id=key) for key, line in LAST_LINES.items()]
OPTIONAL = {
    *("invented", "recoat_within_h", "missed", "us_national", "california_scm"),
    *("eu_2004_42", "air_cure_h"),
    *("filler", "sand_for_surfacer", "block_sand", "sand_clear", "cut"),
    *("breathing", "cartridge", "pot_life_min", "viscosity", "keeps_days"),
    *("type", "cap_bar", "fan_cm", "half_full", "tape_after_min", "lamp_min"),
}


@pytest.mark.parametrize(("line", "key"), PLAIN_LINES)
def test_a_wrong_type_is_named_with_its_line_and_key(line: int, key: str) -> None:
    """A date is never right."""
    message = refused(changed(line, f"{key} = 1979-05-27"))
    assert f"line {line}: " in message
    assert re.search(rf"\b{key} (must be|is)\b", message)
    assert "missing" not in message


@pytest.mark.parametrize(("line", "key"), PLAIN_LINES)
@pytest.mark.parametrize("value", ["-1e9", "1e9", "nan", "inf", "[]", '""', "true"])
def test_a_value_out_of_range_is_named_with_its_line_and_key(
    line: int, key: str, value: str
) -> None:
    if (key, value) in {
        *(("hazards", "[]"), ("breathing", "[]")),
        *(("invented", "true"), ("half_full", "true")),
    }:
        return
    message = refused(changed(line, f"{key} = {value}"))
    assert f"line {line}: " in message
    assert re.search(rf"\b{key} (must be|is)\b", message)


@pytest.mark.parametrize(("line", "key"), PLAIN_LINES)
def test_an_unknown_key_is_named_with_its_line(line: int, key: str) -> None:
    text = changed(line, f"{LINES[line - 1]}\nwhat_is_this = 1")
    message = refused(text)
    assert f"line {line + 1}: " in message
    assert re.search(r"\bwhat_is_this (is not known|must be)\b", message), key


@pytest.mark.parametrize(("line", "key"), PLAIN_LINES)
def test_a_missing_key_is_named_with_the_line_of_its_table(line: int, key: str) -> None:
    text = changed(line, "")
    if key in OPTIONAL:
        assert parse_sheet(text, "mine.toml")
        return
    message = refused(text)
    above, name = table_above(line)
    assert f"line {above}: " in message
    assert re.search(rf"\b{key}\b.* is missing; give", message)
    assert name.split(".")[-1] in message


def table_above(line: int) -> tuple[int, str]:
    """Line and name of the table that a line belongs to."""
    for number in range(line, 0, -1):
        if LINES[number - 1].startswith("["):
            return number, LINES[number - 1].strip("[]")
    return 1, ""


def test_sentences_in_full() -> None:
    line = LINES.index("coats = 1                     # one wet coat") + 1
    assert refused(changed(line, "coats = 0")) == (
        f"mine.toml, line {line}: product.sealer.coats must be a whole number from 1 "
        "to 10, not 0."
    )
    assert "must be a whole number from 1 to 10, not 1.5." in refused(
        changed(line, "coats = 1.5")
    )
    missing = refused(changed(line, ""))
    assert missing.endswith(
        "product.sealer.coats is missing; give a whole number from 1 to 10."
    )


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('missed = "re-etch"', 'missed = "strip"', '"scuff", "sand", "re-etch", not'),
        ("warmest_c = 38", "warmest_c = 9", "warmest_c must be above coldest_c"),
        (
            "recoat_within_h = 8",
            "recoat_within_h = 0.1",
            "longer than recoat_after_min",
        ),
        ("bake_min = 30\n", "", "bake_min is missing; give it with bake_c"),
        ("bake_c = 49 ", "# ", "bake_c is missing; give it with bake_min"),
        ("sand_after_h = 2\n", "", "sand_after_h is missing; give it, as the kind"),
        ("can_sizes_l = [1, 4]", "can_sizes_l = [4, 1]", "a list of rising numbers"),
        ("can_sizes_l = [1, 4]", "can_sizes_l = [1, 1]", "a list of rising numbers"),
        ("can_sizes_l = [1, 4]", 'can_sizes_l = ["1"]', "a list of rising numbers"),
        ("can_sizes_l = [1, 4]", "can_sizes_l = [0]", "a list of rising numbers"),
        (
            'hazards = ["solvent"]',
            'hazards = ["smell"]',
            "hazards must be a list, empty or of",
        ),
        (
            'hazards = ["solvent"]',
            "hazards = [[]]",
            "hazards must be a list, empty or of",
        ),
        ('["solvent"]', '["solvent", "solvent"]', "each at most once"),
        ('kind = "polish"', 'kind = "wax"', "others, not 'wax'"),
        ('kind = "polish"', 'kind = "cleaner"', "kind is 'cleaner', as of 'cleaner'"),
        ("to_c = 20\n", "to_c = 10\n", "to_c must be above from_c, which is 10"),
        ("parts = 4\n", "parts = 0\n", "parts must be a number above 0"),
        (
            "density_g_per_l = 945",
            "density_g_per_l = 699",
            "at least the 700 g/L of VOC",
        ),
        (
            "volume_solids = 0.4\n",
            "volume_solids = 0.99\n",
            "it fills 1.07 of the volume",
        ),
        ("exempt_density_g_per_l = 790\n", "", "exempt_density_g_per_l is missing"),
        (
            "dry_film_um = 25",
            "dry_film_um = 0",
            "from 0.5 to 200 um for what is sprayed",
        ),
        ("dry_film_um = 25", "dry_film_um = 201", "from 0.5 to 200 um for what is"),
        (
            "overlap = 0.7",
            "overlap = 1.0",
            "gun.overlap must be a number from 0 to 0.95",
        ),
        ("[product.polish]", "[product.polish]\nvoc_categories = {}", "is not for the"),
        (
            "[product.polish]",
            "[product.polish]\ncomponents = []",
            "is not for the kind",
        ),
        ("[product.polish]", "[product.polish]\ngun = {}", "is not for the kind"),
        (
            "[product.polish]",
            "[product.polish]\nreducers = 1",
            "must be a list of tables",
        ),
        ("[product.polish]", "[product.polish]\nhardeners = [1]", "must be a list of"),
        ('us_national = "topcoat"', 'us_national = ""', "must be text in quotes"),
        ('name = "Clear"', 'name = "a\\nb"', "must be text in quotes, on one line"),
    ],
)
def test_what_does_not_fit_together(old: str, new: str, said: str) -> None:
    assert old in TEXT
    text = TEXT.replace(old, new, 1)
    message = refused(text)
    assert said in message
    # The line it names is the one that was changed, or its table's where it went.
    named = int(re.search(r"line (\d+)", message)[1])  # type: ignore[index]
    changed_at = TEXT[: TEXT.index(old)].count("\n") + 1
    if new and "is missing" not in message and "\n" not in new.strip():
        assert named == changed_at
    else:
        assert named in (changed_at, changed_at + 1, table_above(changed_at)[0])


@pytest.mark.parametrize("name", ["gun", "windows"])
def test_a_table_that_is_missing(name: str) -> None:
    sealer = TEXT.split("[product.sealer]")[1].split("[product.base_coat]")[0]
    without = re.sub(rf"(?m)^{name} = .*$", "", sealer)
    without = re.sub(rf"\[product\.sealer\.{name}\]\n(?:[a-z].*\n)+", "", without)
    message = refused(TEXT.replace(sealer, without))
    assert f"product.sealer.{name} is missing" in message
    assert f"line {LINES.index('[product.sealer]') + 1}: " in message


def test_a_mix_that_is_missing() -> None:
    text = re.sub(r"\[\[product\.sealer\.components\]\]\n(?:[a-z].*\n)+", "", TEXT)
    assert "product.sealer.components is missing" in refused(text)


@pytest.mark.parametrize("name", [kind for kind in KINDS if kind not in OPTIONAL_KINDS])
def test_a_kind_that_is_missing(name: str) -> None:
    text = without(name)
    assert f'give a product of kind "{name}"' in refused(text)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "name is missing"),
        ("name = 1\n", "line 1: name must be text"),
        ("product = 1\n" + TEXT.split("[product")[0], "product must be a table"),
        (TEXT.split("[product")[0], "line 1: product is missing"),
        (TEXT.split("[product")[0] + "[product]\n", 'of kind "cleaner"'),
        (TEXT.split("[product")[0] + "[product]\nx = 1\n", "product.x must be a table"),
    ],
)
def test_hardly_a_sheet(text: str, said: str) -> None:
    assert said in refused(text)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("name = \n", 1),
        ("# a\nname = 'x'\nname = 'y'\n", 3),
        ("name = 'x'\n[gun\n", 2),
        ("a = 1\nb = '''\nnever closed\n", 2),
        ("a = 1\nb = [1,\n2,\n", 2),
        ("a = 1\nb = 2026-13-45\n", 2),
        ("a = 1\r\nb = 2\r\nc\r\n", 3),
    ],
)
def test_what_is_not_toml_is_named_by_its_line(text: str, line: int) -> None:
    message = refused(text)
    assert message.startswith(f"mine.toml, line {line}: ")
    assert "cannot be read as TOML" in message
