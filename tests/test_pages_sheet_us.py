"""The booth's sheet in the units of the United States."""

import re
from dataclasses import replace

from booth_sheets import (
    cells_of,
    changed,
    in_units,
    lines_of,
    plan,
    planned_in,
    rows,
    section,
    steps_of,
)

from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.cautions_sheet import cautions_sheet


def test_us_units_show_the_film_in_mil() -> None:
    assert "0.39 mil" in lines_of(section(in_units("us"), "Mix"))[0]
    assert "10 µm" in lines_of(section(in_units("metric"), "Mix"))[0]


def test_us_units_of_the_booth() -> None:
    """20 °C are 68 °F, 1.5 m2 16.1 ft2, 2 bar 29 psi, 18 cm 7 in, by hand."""
    sheet = in_units("us")
    assert lines_of(section(sheet, "Weather"))[0].startswith("Air 68 °F, panel 70 °F")
    assert section(sheet, "Mix").title == "Mix for 16.1 ft²"
    # 0.6 bar are 8.7 psi.
    etched = next(each for each in steps_of(sheet) if "Etch primer" in each)
    assert "tip 1.3 mm, inlet 29 psi, cap 8.7 psi, 7 in," in etched
    base = next(m for m in plan().materials if m.product.kind == "base_coat")
    row = next(r for r in rows(sheet, "Mix") if r[1] == "Base reducer")
    assert row[0].startswith(f"{1000 * base.ready_l / 29.5735:.1f} fl oz")
    # 550 g/L, the US limit of a primer sealer, are 4.59 lb/gal.
    cautions = cautions_sheet(planned_in("us"))
    voc = next(r for r in rows(cautions, "VOC") if r[0] == "Tintable sealer")
    assert voc[1].endswith("4.59 lb/gal")


def test_no_can_of_a_us_sheet_is_told_in_litres() -> None:
    cells = [row[5] for row in rows(in_units("us"), "Mix") if row[5]]
    assert cells
    assert not any(cell.endswith(" L") for cell in cells)


def test_no_metric_unit_is_left_on_a_us_sheet() -> None:
    request = replace(plan().request.question, units="us")
    for weather in ({}, {"panel_c": 11.0}, {"air_c": 5.0, "humidity": 0.9}):
        found = changed(question=request, **weather)
        parts = (*booth_sheet(found).sections, *cautions_sheet(found).sections)
        said = " ".join(
            [line for each in parts for line in lines_of(each)]
            + [cell for each in parts for cell in cells_of(each)]
        )
        # Grits, tips in mm and the condition of the colour have no other unit.
        assert not re.search(r"°C|\d ?(ml|L|cm|bar|m²|g/L|µm|K)\b", said)


def test_the_margin_in_fahrenheit_is_a_difference() -> None:
    margin = plan().weather.margin_k * 1.8
    line = lines_of(section(in_units("us"), "Weather"))[0]
    assert line.endswith(f"{margin:.1f} °F below the panel.")
