"""A product sheet as a TOML file; ``data/product-line.toml`` shows all of it."""

from functools import cache
from itertools import groupby
from pathlib import Path
from typing import Any, Final

from shadecore.datafiles import data_file
from shadecore.errors import JobError
from shadecore.formats.toml_lists import Choices, Rising
from shadecore.formats.toml_rules import Above, Choice, Flag, Number, Text, Whole
from shadecore.formats.toml_table import Rule, Table, parse_table, read_table
from shadecore.products.cups import flow_cups
from shadecore.products.grits import FINEST_GRIT
from shadecore.products.product import (
    BREATHING,
    GUN_TYPES,
    HAZARDS,
    KINDS,
    MISSED,
    OPTIONAL,
    SANDED,
    SPRAYED,
    Component,
    Gun,
    Product,
    ProductSheet,
    SpeedGrade,
    Viscosity,
    Windows,
)
from shadecore.products.ranges import (
    AIR_C,
    BAKE_C,
    CAP_BAR,
    CUP_S,
    DRY_FILM_UM,
    FAN_CM,
    HALVING_K,
    KEEPS_DAYS,
    MOST_HUMIDITY,
    POT_LIFE_MIN,
    REFERENCE_C,
    SPRAYED_FILM_UM,
)
from shadecore.products.voc import WATER_G_PER_L

_DEMO: Final = "product-line.toml"
_MIN_PER_H: Final = 60.0
_ROUNDING: Final = 1.02
"""Densities and solids are rounded, so volumes may add up to a little more than one."""
_MOST_PASSES: Final = 6
"""For one coat; this tool's own limit."""
_MUST_BE_SANDED: Final = ("filler", "surfacer")

_SHEET: Final[dict[str, Rule]] = {
    "name": Text(),
    "invented": Flag(needed=False),
    "currency": Text(),
    "reference_c": REFERENCE_C.rule(),
    "halving_k": HALVING_K.rule(),
    "coldest_c": AIR_C.rule(),
    "warmest_c": AIR_C.rule(),
    "most_humidity": MOST_HUMIDITY.rule(),
}
# Hazards may be none, but not forgotten: the cautions follow from them.
_PRODUCT: Final[dict[str, Rule]] = {
    "kind": Choice(KINDS),
    "name": Text(),
    "coats": Whole(1, 10),
    "dry_film_um": DRY_FILM_UM.rule(),
    "hazards": Choices(HAZARDS),
    "pot_life_min": POT_LIFE_MIN.rule(needed=False),
    "breathing": Choices(BREATHING, needed=False),
    "cartridge": Text(needed=False),
    "keeps_days": KEEPS_DAYS.rule(needed=False),
}
_TABLES: Final = (
    *("gun", "windows", "components", "viscosity"),
    *("reducers", "hardeners", "voc_categories"),
)
_FOR_SPRAYED: Final = (
    *("gun", "components", "voc_categories"),
    *("pot_life_min", "viscosity"),
)
_GUN: Final[dict[str, Rule]] = {
    "tip_mm": Number(0.3, 4.0, "mm"),
    "inlet_bar": Number(0.2, 10.0, "bar"),
    "distance_cm": Number(5.0, 50.0, "cm"),
    "overlap": Number(0.0, 0.95, "(0.5 is one half)"),
    "type": Choice(GUN_TYPES, needed=False),
    "cap_bar": CAP_BAR.rule(needed=False),
    "passes": Whole(1, _MOST_PASSES, needed=False, default=1),
    "fan_cm": FAN_CM.rule(needed=False),
}
_WINDOWS: Final[dict[str, Rule]] = {
    "flash_min": Number(0.0, 240.0, "min"),
    "recoat_after_min": Number(0.0, 10080.0, "min"),
    "recoat_within_h": Number(0.1, 8760.0, "h", needed=False),
    "sand_after_h": Number(0.0, 336.0, "h", needed=False),
    "bake_min": Number(1.0, 480.0, "min", needed=False),
    "bake_c": BAKE_C.rule(needed=False),
    "air_cure_h": Number(0.1, 1000.0, "h", needed=False),
    "missed": Choice(MISSED, needed=False, default="scuff"),
    "lamp_min": Number(1.0, 240.0, "min", needed=False),
    "tape_after_min": Number(0.0, 10080.0, "min", needed=False),
}
_COMPONENT: Final[dict[str, Rule]] = {
    "name": Text(),
    "parts": Above(1000.0, "parts by volume"),
    "density_g_per_l": Number(500.0, 5000.0, "g/L"),
    "voc_g_per_l": Number(0.0, 2000.0, "g/L"),
    "water_g_per_l": Number(0.0, 1000.0, "g/L", needed=False, default=0.0),
    "exempt_g_per_l": Number(0.0, 2000.0, "g/L", needed=False, default=0.0),
    "exempt_density_g_per_l": Number(
        500.0, 3000.0, "g/L", needed=False, default=1000.0
    ),
    "volume_solids": Number(0.0, 1.0),
    "price_per_l": Number(0.0, 1e6),
    "can_sizes_l": Rising(Number(0.001, 1000.0, "L")),
    "half_full": Flag(needed=False),
}
_GRADE: Final[dict[str, Rule]] = {
    "name": Text(),
    "from_c": AIR_C.rule(),
    "to_c": AIR_C.rule(),
}
_GRITS: Final[dict[str, Rule]] = dict.fromkeys(
    SANDED, Rising(Whole(1, FINEST_GRIT), needed=False)
)


def parse_sheet(text: str, name: str) -> ProductSheet:
    """Read a product sheet.

    Parameters
    ----------
    text : str
        TOML, one table ``[product.<key>]`` to a product, one product of each kind,
        those of ``OPTIONAL`` where there is one; ``[grits]`` where steps are sanded
        otherwise than usual.
    name : str
        What to call the file in a message.

    Returns
    -------
    ProductSheet
        Its products in the order of the job.

    Raises
    ------
    JobError
        If something is missing, not known, of the wrong type or out of range; it
        names the line and the key.
    """
    return _sheet(parse_table(text, name, JobError))


def _sheet(top: Table) -> ProductSheet:
    values = top.read(_SHEET, ("product", "grits"))
    if values["coldest_c"] >= values["warmest_c"]:
        top.refuse("warmest_c", "must be above coldest_c")
    place = top.table("product")
    if place is None:
        top.refuse("product", "is missing; give each product under [product.<key>]")
    products = [_product(place, key) for key in place.values]
    products.sort(key=lambda product: KINDS.index(product.kind))
    _check_kinds(place, products)
    return ProductSheet(**values, products=tuple(products), grits=_grits(top))


def read_sheet(path: str | Path) -> ProductSheet:
    """Read a product sheet from a file.

    Parameters
    ----------
    path : str or Path
        The file, in UTF-8.

    Returns
    -------
    ProductSheet

    Raises
    ------
    JobError
        If it cannot be opened, or as :func:`parse_sheet`.
    """
    return _sheet(read_table(path, JobError))


@cache
def demo_sheet() -> ProductSheet:
    """The invented product line in ``data/product-line.toml``.

    Returns
    -------
    ProductSheet
        Marked as invented: not to be sprayed by.

    Examples
    --------
    >>> demo_sheet().invented
    True
    """
    return read_sheet(data_file(_DEMO))


def _product(place: Table, key: str) -> Product:
    table = place.table(key)
    if table is None:
        place.refuse(key, "is missing")
    values = table.read(_PRODUCT, _TABLES)
    _check_sprayed(table, values)
    return Product(
        key=key,
        **values,
        components=tuple(_component(each) for each in table.tables("components")),
        gun=_gun(table),
        windows=_windows(table, values["kind"]),
        reducers=tuple(_grade(each) for each in table.tables("reducers")),
        hardeners=tuple(_grade(each) for each in table.tables("hardeners")),
        voc_categories=_categories(table),
        viscosity=_viscosity(table),
    )


def _check_sprayed(table: Table, values: dict[str, Any]) -> None:
    """What is sprayed has a gun, a mix and a film; what is not has none to give."""
    kind = values["kind"]
    if kind not in SPRAYED:
        for name in _FOR_SPRAYED:
            if name in table.values:
                table.refuse(name, f"is not for the kind {kind!r}; leave it out")
        return
    if "gun" not in table.values:
        table.refuse("gun", f"is missing; give it, as the kind {kind!r} is sprayed")
    if not table.values.get("components"):
        table.refuse("components", "is missing; give one or more, each with its parts")
    if values["dry_film_um"] not in SPRAYED_FILM_UM:
        expected = SPRAYED_FILM_UM.rule().expected
        table.refuse("dry_film_um", f"must be {expected} for what is sprayed")


def _gun(table: Table) -> Gun | None:
    gun = table.table("gun")
    return None if gun is None else Gun(**gun.read(_GUN))


def _viscosity(product: Table) -> Viscosity | None:
    table = product.table("viscosity")
    if table is None:
        return None
    rules: dict[str, Rule] = {
        "cup": Choice(tuple(flow_cups())),
        "low_s": CUP_S.rule(),
        "high_s": CUP_S.rule(),
    }
    found = Viscosity(**table.read(rules))
    if found.low_s > found.high_s:
        table.refuse("high_s", f"must be at least low_s, which is {found.low_s:g}")
    return found


def _windows(product: Table, kind: str) -> Windows:
    table = product.table("windows")
    if table is None:
        product.refuse("windows", "is missing; give flash_min and recoat_after_min")
    windows = Windows(**table.read(_WINDOWS))
    within_h = windows.recoat_within_h
    if within_h is not None and within_h * _MIN_PER_H <= windows.recoat_after_min:
        table.refuse("recoat_within_h", "must be longer than recoat_after_min")
    if windows.sand_after_h is None and kind in _MUST_BE_SANDED:
        table.refuse(
            "sand_after_h", f"is missing; give it, as the kind {kind!r} is sanded"
        )
    _check_cure(table, windows, kind)
    return windows


def _check_cure(table: Table, windows: Windows, kind: str) -> None:
    if (windows.bake_min is None) != (windows.bake_c is None):
        missing, given = "bake_min", "bake_c"
        if windows.bake_c is None:
            missing, given = given, missing
        table.refuse(missing, f"is missing; give it with {given}, or neither")
    cures = (windows.bake_min, windows.air_cure_h)
    if kind == "clear_coat" and cures == (None, None):
        table.refuse("air_cure_h", "is missing; give it, or bake_min and bake_c")


def _component(table: Table) -> Component:
    component = Component(**table.read(_COMPONENT))
    exempt = component.exempt_g_per_l
    pair = ("exempt_g_per_l", "exempt_density_g_per_l")
    for missing, given in (pair, pair[::-1]):
        if given in table.values and missing not in table.values:
            table.refuse(missing, f"is missing; give it with {given}, or neither")
    parts = component.voc_g_per_l + component.water_g_per_l + exempt
    if parts > component.density_g_per_l:
        table.refuse(
            "density_g_per_l",
            f"must be at least the {parts:g} g/L of VOC, water and exempt together",
        )
    volume = (
        component.volume_solids
        + component.water_g_per_l / WATER_G_PER_L
        + exempt / component.exempt_density_g_per_l
    )
    if volume > _ROUNDING:
        table.refuse(
            "volume_solids",
            f"leaves no room: with water and exempt it fills {volume:.2f} of the "
            "volume, which must be at most 1",
        )
    return component


def _grade(table: Table) -> SpeedGrade:
    grade = SpeedGrade(**table.read(_GRADE))
    if grade.from_c >= grade.to_c:
        table.refuse("to_c", f"must be above from_c, which is {grade.from_c:g}")
    return grade


def _grits(top: Table) -> dict[str, tuple[int, ...]]:
    table = top.table("grits")
    found = {} if table is None else table.read(_GRITS)
    return {key: grits for key, grits in found.items() if grits}


def _categories(product: Table) -> dict[str, str]:
    table = product.table("voc_categories")
    if table is None:
        return {}
    rules: dict[str, Rule] = dict.fromkeys(table.values, Text())
    return table.read(rules)


def _check_kinds(place: Table, products: list[Product]) -> None:
    """One product of each kind, or the job would not know which to take."""
    for kind, group in groupby(products, key=lambda product: product.kind):
        keys = [product.key for product in group]
        if len(keys) > 1:
            table = place.table(keys[1])
            (table or place).refuse("kind", f"is {kind!r}, as of {keys[0]!r}; keep one")
    found = {product.kind for product in products}
    needed = (kind for kind in KINDS if kind not in {*found, *OPTIONAL})
    missing = next(needed, None)
    if missing is not None:
        place.refuse(missing, f'is missing; give a product of kind "{missing}"')
