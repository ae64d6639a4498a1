"""Volatile organic compounds of a mix, and whether a rule lets it be sprayed."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from shadecore.datafiles import data_file
from shadecore.errors import JobError, TableError
from shadecore.formats.table import read_rows, read_text
from shadecore.products.product import Component, Product, total_parts

US_NATIONAL: Final = "us_national"
"""Key of the rule that judges base and clear coat together."""
THREE_STAGES: Final = "topcoat_3_stage"
"""Key of its category for topcoats with a coat between base and clear."""
LOCAL_RULE: Final = "check your local rule"
"""How every answer ends: districts set limits of their own."""
STATUS_WORDS: Final = {"R": "read", "R2": "read second-hand", "M": "from memory"}
"""How well a limit is known, by its code in ``data/voc-limits.csv``."""
WATER_G_PER_L: Final = 997.0
"""Density of water at 25 degrees C."""

_LIMITS: Final = "voc-limits.csv"
_COLUMNS: Final = (
    *("rule", "rule_name", "date", "category", "category_name"),
    *("limit_g_per_l", "basis", "source", "status"),
)


@dataclass(frozen=True)
class VocLimit:
    """One limit of one rule.

    Attributes
    ----------
    rule, rule_name : str
        Key and name of the rule.
    date : str
        When it was issued, as ISO year, month and day.
    category, category_name : str
        Key and name of the kind of coating.
    limit_g_per_l : float
        [g/L]
    basis : str
        What it is for, as the table's heading explains.
    source : str
        Where it stands.
    status : str
        Whether that was read: a key of ``STATUS_WORDS``.
    """

    rule: str
    rule_name: str
    date: str
    category: str
    category_name: str
    limit_g_per_l: float
    basis: str
    source: str
    status: str


@dataclass(frozen=True)
class VocAnswer(VocLimit):
    """A limit, and a mix held against it.

    Attributes
    ----------
    voc_g_per_l : float
        VOC of the mix on the limit's basis. [g/L]
    """

    voc_g_per_l: float

    @property
    def within(self) -> bool:
        """Whether the mix keeps to the limit."""
        return self.voc_g_per_l <= self.limit_g_per_l or math.isclose(
            self.voc_g_per_l, self.limit_g_per_l
        )


def actual_voc(components: Sequence[Component]) -> float:
    """Mass of VOC in a volume of the mix as it is, exempt compounds left out.

    Parameters
    ----------
    components : sequence of Component
        The mix; volumes are taken to add up.

    Returns
    -------
    float
        g/L

    Raises
    ------
    JobError
        If the mix has no parts.
    """
    return _content(components, lambda each: each.voc_g_per_l, lambda _: 1.0)


def regulatory_voc(components: Sequence[Component]) -> float:
    """Mass of VOC in a volume of the mix less water and less exempt compounds.

    (Wv - Ww - Wec) / (V - Vw - Vec), by 40 CFR 59.104(a)(1) and ASTM D3960.

    Parameters
    ----------
    components : sequence of Component
        The mix; volumes are taken to add up.

    Returns
    -------
    float
        g/L, not below :func:`actual_voc`.

    Raises
    ------
    JobError
        If the mix has no parts, or water and exempt compounds fill all of it.
    """
    return _content(
        components,
        lambda each: each.voc_g_per_l,
        lambda each: 1.0 - _water(each) - _exempt(each),
    )


def less_water_voc(components: Sequence[Component]) -> float:
    """Mass of all organic compounds in a volume of the mix less water.

    The European directive goes by boiling point, so what other rules exempt counts
    here; what reacts into the film does not count there, but is not known here.

    Parameters
    ----------
    components : sequence of Component
        The mix; volumes are taken to add up.

    Returns
    -------
    float
        g/L

    Raises
    ------
    JobError
        If the mix has no parts, or water fills all of it.
    """
    return _content(components, _all_organic, lambda each: 1.0 - _water(each))


def multi_stage_voc(
    base: float, clear: float, mid_coats: Sequence[float] = ()
) -> float:
    """VOC of a base, mid and clear coat judged together, by 40 CFR 59.104(a)(2).

    Parameters
    ----------
    base, clear : float
        Regulatory VOC of the base and the clear coat. [g/L]
    mid_coats : sequence of float
        That of each coat between them. [g/L]

    Returns
    -------
    float
        g/L

    Examples
    --------
    >>> multi_stage_voc(750.0, 250.0)
    416.667
    """
    return (base + sum(mid_coats) + 2.0 * clear) / (len(mid_coats) + 3)


@lru_cache(maxsize=1)
def voc_limits() -> tuple[VocLimit, ...]:
    """All limits of ``data/voc-limits.csv``.

    Returns
    -------
    tuple of VocLimit

    Raises
    ------
    TableError
        If the table cannot be used.
    """
    found = []
    for row in read_rows(read_text(data_file(_LIMITS)), _LIMITS, _COLUMNS):
        cells = {column: row.text(column) for column in _COLUMNS}
        limit = row.number("limit_g_per_l")
        if cells["basis"] not in _BASES or cells["status"] not in STATUS_WORDS:
            message = f"{_LIMITS}, line {row.line}: unknown basis or status; mend it."
            raise TableError(message)
        del cells["limit_g_per_l"]
        found.append(VocLimit(limit_g_per_l=limit, **cells))
    return tuple(found)


def voc_limit(rule: str, category: str) -> VocLimit:
    """One limit.

    Parameters
    ----------
    rule, category : str
        Keys as in ``data/voc-limits.csv``.

    Returns
    -------
    VocLimit

    Raises
    ------
    JobError
        If there is none, saying which there are.
    """
    of_rule = {each.category: each for each in voc_limits() if each.rule == rule}
    if category in of_rule:
        return of_rule[category]
    rules = dict.fromkeys(each.rule for each in voc_limits())
    what = f"category {category!r} in {rule!r}" if of_rule else f"VOC rule {rule!r}"
    message = f"There is no {what}; take one of {', '.join(of_rule or rules)}."
    raise JobError(message)


def check_voc(product: Product) -> tuple[VocAnswer, ...]:
    """Hold a product's mix against each rule that its sheet names a category of.

    Parameters
    ----------
    product : Product
        The product.

    Returns
    -------
    tuple of VocAnswer
        In the sheet's order; empty where it names no rule.

    Raises
    ------
    JobError
        If the product is not mixed of anything, or a rule or category is not known.
    """
    try:
        limits = [voc_limit(*named) for named in product.voc_categories.items()]
        return tuple(
            _answer(limit, _BASES[limit.basis](product.components)) for limit in limits
        )
    except JobError as error:
        message = f"The VOC of {product.name!r} cannot be worked out: {error}"
        raise JobError(message) from error


def check_stages(
    base: Product, clear: Product, mid_coats: Sequence[Product] = ()
) -> VocAnswer:
    """Hold base, mid and clear coat together against the US national rule.

    That rule judges the stages of a topcoat together: one of them may be above the
    limit by itself when the others make up for it.

    Parameters
    ----------
    base, clear : Product
        Base and clear coat.
    mid_coats : sequence of Product
        Coats between them.

    Returns
    -------
    VocAnswer

    Raises
    ------
    JobError
        If one of them is not mixed of anything.
    """
    voc = multi_stage_voc(
        regulatory_voc(base.components),
        regulatory_voc(clear.components),
        [regulatory_voc(each.components) for each in mid_coats],
    )
    category = THREE_STAGES if mid_coats else "topcoat"
    return _answer(voc_limit(US_NATIONAL, category), voc)


def _answer(limit: VocLimit, voc_g_per_l: float) -> VocAnswer:
    return VocAnswer(**vars(limit), voc_g_per_l=voc_g_per_l)


def _content(
    components: Sequence[Component],
    mass_of: Callable[[Component], float],
    share_of: Callable[[Component], float],
) -> float:
    """Mass that counts in the volume that counts."""
    total_parts(components)
    mass = sum(each.parts * mass_of(each) for each in components)
    volume = sum(each.parts * share_of(each) for each in components)
    if mass == 0.0:
        return 0.0
    if not volume > 0.0:
        message = "Water and exempt compounds fill the whole mix; check their amounts."
        raise JobError(message)
    return mass / volume


def _water(component: Component) -> float:
    return component.water_g_per_l / WATER_G_PER_L


def _exempt(component: Component) -> float:
    if component.exempt_g_per_l == 0.0:
        return 0.0
    return component.exempt_g_per_l / component.exempt_density_g_per_l


def _all_organic(component: Component) -> float:
    return component.voc_g_per_l + component.exempt_g_per_l


def _organic_as_is(components: Sequence[Component]) -> float:
    return _content(components, _all_organic, lambda _: 1.0)


_BASES: Final[dict[str, Callable[[Sequence[Component]], float]]] = {
    "less_water_exempt": regulatory_voc,
    "as_is": actual_voc,
    "organic_less_water": less_water_voc,
    "organic_as_is": _organic_as_is,
}
