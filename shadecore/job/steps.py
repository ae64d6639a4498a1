"""The steps of a refinish job, in the trade's order.

Order, grits and tests are common practice, no source; the hands-on minutes are rules of
thumb for a panel or two. Whatever a product decides comes from its sheet.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from shadecore.errors import JobError
from shadecore.job.usual_steps import CURE, USUAL
from shadecore.products.grits import check_grits
from shadecore.products.product import HAZARDS, SPRAYED, Gun, Product, ProductSheet
from shadecore.products.ranges import COATS

MIXING_MIN: Final = 10.0
"""To mix, strain and set the gun; rule of thumb."""
_COAT_MIN: Final = 10.0
"""To spray one coat; rule of thumb."""
_SECOND_CLEAR_COATS: Final = 2


@dataclass(frozen=True)
class Step:
    """One step of the job.

    Attributes
    ----------
    key : str
        What the step is called by other parts.
    title, purpose : str
        What is done, and what for.
    product : str or None
        Key of the product in the sheet; None where none is used.
    grit : int or None
        Last grit used; None where nothing is sanded.
    grits : tuple of int
        All grits, coarse first.
    gun : Gun or None
        How the gun is set; None where nothing is sprayed.
    coats : int
        Coats to spray; 0 where nothing is sprayed.
    flash_min : float
        Between coats, at the sheet's reference temperature. [min]
    check : str
        What to check before going on.
    work_min : float
        Hands-on time, a rule of thumb; 0 where nobody works. [min]
    cautions : tuple of str
        Hazards, of :data:`shadecore.products.product.HAZARDS`.
    wait_min : float
        Time after it before the next step, beside what its product needs, at the
        sheet's reference temperature. [min]
    within_h : float or None
        Time within which the next step must start, beside its product's window; None
        for no limit. [h]
    share : float
        Share of the job's area that it covers, 0..1; above 1 where a spot repair
        reaches into the panel beside.
    mix : str
        What its mix is called where that is another one than its product's usual one,
        such as mid-coats or a second colour; empty for the usual one.
    panels : tuple of str
        Keys of the panels that it is for, whose grits are then a ladder of their own;
        empty where nobody said.
    part : str
        Which of two colours' areas it is sprayed on: ``FIRST_AREA``, ``SECOND_AREA``;
        empty for both and where there is one colour.
    room_min : float
        Time after it that no break may cut off, in which the gun is cleaned. [min]
    clears_min : float
        Time after it in which isocyanate hangs in the air, whatever its temperature.
        [min]
    in_booth : bool
        Whether a booth's fan takes that away, so that no other step waits for it.
    coat_within_h : float or None
        Time within which the next coat must begin, because metal lies bare or a wiped
        panel gathers dust; None where it does not matter. [h]
    """

    key: str
    title: str
    purpose: str
    product: str | None
    grit: int | None
    grits: tuple[int, ...]
    gun: Gun | None
    coats: int
    flash_min: float
    check: str
    work_min: float
    cautions: tuple[str, ...]
    wait_min: float = 0.0
    within_h: float | None = None
    share: float = 1.0
    mix: str = ""
    panels: tuple[str, ...] = ()
    part: str = ""
    room_min: float = 0.0
    clears_min: float = 0.0
    in_booth: bool = False
    coat_within_h: float | None = None


FIRST_AREA: Final = "first"
SECOND_AREA: Final = "second"
USUAL_KEYS: Final = tuple(USUAL)
"""Keys of all usual steps, in their order."""
_FLATTEST: Final = (CURE, "sand_clear", "clear_coat_2")


def job_steps(
    sheet: ProductSheet,
    base_coats: int,
    undercoat_name: str,
    *,
    bare_metal: bool,
    filler: bool,
    flattest: bool,
) -> tuple[Step, ...]:
    """Steps of a job, in the order they are done.

    Parameters
    ----------
    sheet : ProductSheet
        The products.
    base_coats : int
        Coats of base that the pick counted, within ``COATS``.
    undercoat_name : str
        The picked undercoat, which the sealer's step is called after.
    bare_metal : bool
        Whether metal shows and is etched.
    filler : bool
        Whether there is filler to shape.
    flattest : bool
        Whether the clear is cured, sanded flat and coated again.

    Returns
    -------
    tuple of Step

    Raises
    ------
    JobError
        If the coats are out of range or the sheet has no product of a kind.

    Examples
    --------
    >>> from shadecore.products.sheet_file import demo_sheet
    >>> steps = job_steps(
    ...     demo_sheet(), 4, "Grey N5", bare_metal=False, filler=False, flattest=False
    ... )
    >>> [step.title for step in steps if step.coats == 4]
    ['Base coat']
    """
    if base_coats not in COATS:
        message = f"Base coats must be {COATS}, not {base_coats}."
        raise JobError(message)
    left_out = {
        *(() if bare_metal else ("etch_primer",)),
        *(() if filler else ("filler",)),
        *(() if flattest else _FLATTEST),
    }
    name = " ".join(undercoat_name.split())
    titles = {"sealer": f"Seal with {name}"} if name else {}
    coats = {"base_coat": base_coats, "clear_coat_2": _SECOND_CLEAR_COATS}
    return tuple(
        _step(key, sheet, titles.get(key, USUAL[key].title), coats.get(key))
        for key in USUAL
        if key not in left_out
    )


def scratches(steps: Iterable[Step]) -> tuple[str, ...]:
    """Where the scratch of a grit will show in a job.

    Parameters
    ----------
    steps : iterable of Step
        In the order they are done.

    Returns
    -------
    tuple of str
        Sentences, as :func:`check_grits` gives them; empty where there are none.
    """
    ladders: list[tuple[int, ...]] = [()]
    for step in steps:
        if step.coats:
            # A coat is a new surface, on which the ladder starts anew.
            ladders.append(())
        if step.panels:
            ladders.insert(-1, step.grits)
        else:
            ladders[-1] += step.grits
    return tuple(problem for ladder in ladders for problem in check_grits(ladder))


def usual_step(key: str, sheet: ProductSheet) -> Step:
    """A usual step by itself.

    Parameters
    ----------
    key : str
        One of ``USUAL_KEYS``.
    sheet : ProductSheet
        The products.

    Returns
    -------
    Step

    Raises
    ------
    JobError
        If the sheet has no product for it.
    """
    coats = _SECOND_CLEAR_COATS if key == "clear_coat_2" else None
    return _step(key, sheet, USUAL[key].title, coats)


def spray_min(coats: int) -> float:
    """Hands-on time to mix and to spray some coats; rule of thumb.

    Parameters
    ----------
    coats : int
        How many.

    Returns
    -------
    float
        [min]
    """
    return MIXING_MIN + coats * _COAT_MIN


def _step(key: str, sheet: ProductSheet, title: str, coats: int | None) -> Step:
    usual = USUAL[key]
    grits = sheet.grits.get(key, usual.grits)
    product = None if usual.kind is None else _of_kind(sheet, usual.kind)
    if product is not None and product.kind in SPRAYED:
        count = product.coats if coats is None else coats
        work_min = spray_min(count)
    else:
        count, work_min = 0, usual.work_min
    return Step(
        key,
        title,
        usual.purpose,
        None if product is None else product.key,
        grits[-1] if grits else None,
        grits,
        None if product is None else product.gun,
        count,
        product.windows.flash_min if product is not None and count else 0.0,
        usual.check,
        work_min,
        hazards_of(product, grits),
    )


def _of_kind(sheet: ProductSheet, kind: str) -> Product:
    for product in sheet.products:
        if product.kind == kind:
            return product
    message = f"{sheet.name} has no product of kind {kind!r}; add one to the sheet."
    raise JobError(message)


def hazards_of(
    product: Product | None, grits: tuple[int, ...], own: Iterable[str] = ()
) -> tuple[str, ...]:
    """Hazards of a step.

    Parameters
    ----------
    product : Product or None
        What it uses.
    grits : tuple of int
        What it sands with.
    own : iterable of str
        What it brings beside these.

    Returns
    -------
    tuple of str
        In the order of ``HAZARDS``, each once.
    """
    found = {
        *own,
        *(product.minded if product else ()),
        *(("dust",) if grits else ()),
    }
    return tuple(hazard for hazard in HAZARDS if hazard in found)
