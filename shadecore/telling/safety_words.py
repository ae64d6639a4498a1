"""Safety in words: what is worn, what is open, the booth, and the waste.

What is said of waste and of open paint is common practice, no source; data sheets and
local codes go before it.
"""

from collections.abc import Iterable, Sequence
from typing import Final

from shadecore.job.material import Material
from shadecore.job.safety import (
    CLEARED_SHARE,
    Booth,
    StepSafety,
    open_solvent_kg,
    open_solvent_l,
    opened_cans_l,
    product_safety,
)
from shadecore.products.product import SUPPLIED_AIR, Product
from shadecore.telling.numbers import capital, listed
from shadecore.units import Units, percent

HAZARD_WORDS: Final = {
    "isocyanate": "Isocyanate",
    "solvent": "Solvent",
    "chromate": "Chromate",
    "dust": "Dust",
    "acid": "Acid",
    "peroxide": "Peroxide",
    "stripper": "Paint stripper",
    "general": "",
}
"""How a hazard is headed."""
_MASK_WORDS: Final = {
    (SUPPLIED_AIR,): "supplied air",
    ("vapour_cartridge",): "vapour mask",
    ("particle_filter",): "particle mask",
    ("vapour_cartridge", "particle_filter"): "vapour and particle mask",
}
_MIND: Final = {
    "isocyanate": "Booth on till clear, skin covered.",
    "solvent": "No sparks.",
    "chromate": "Chromate: no dust, no mist.",
    "dust": "Extraction on.",
    "acid": "Acid: goggles, gloves.",
    "peroxide": "Peroxide: goggles, gloves.",
    "stripper": "Face shield, long gloves, water at hand.",
}
_SKIN: Final = "Skin covered."
_BOOTH_ON: Final = "Booth on, skin covered."
WASTE_WORDS: Final = {
    "hardener_rests": "Rests of hardener and of mixes with it: a can of their own, lid "
    "loose until hard",
    "solvent_and_rags": "Solvent, gun wash, wet rags and masking: closed metal bins, "
    "rags apart from liquids",
    "chromate_dust_and_water": "Dust, sludge and wash water with chromate: sealed and "
    "labelled, never down the drain",
    "sanding_dust": "Sanding dust: bagged without sweeping, as hazardous where old "
    "paint may hold lead or chromate",
    "acid_rests": "Rests of acid activator and of mixes with it: a plastic can of "
    "their own, never with hardener or bare metal",
    "peroxide_rests": "Rests of filler with hardener: set and cold before they go "
    "into a bin; the tube apart from rags and solvent",
    "stripper_and_paint": "Stripper, the paint it took off and its rinse water: a "
    "closed drum, as hazardous waste",
}
"""By kind of waste."""
BY_THE_SHEET: Final = (
    "Mix and spray it only with the protection that its safety data sheet and local "
    "rules ask for."
)
IN_FULL: Final = "Cautions and waste in full: the cautions sheet."
CHECKS_TOO: Final = (
    "Cautions and waste in full, and what to check before going on from each step: the "
    "cautions sheet."
)
"""Where the booth's sheet sends its reader, of a usual job and of a long one."""
CLEARANCE: Final = "Booth clears in, min"
"""Label of a booth's measured clearance time."""
_RUN: Final = 3
"""Steps in a row that are told by their ends."""
ASKED_OF_BOOTH: Final = (
    "The booth's air changes and purge time are not known: ask for its volume, the air "
    "its fan moves with these filters, and its measured clearance time, before anybody "
    "sprays."
)
_NOT_MEASURED: Final = "Till it is measured, supplied air stays on as in an open shop."


def mask_words(safety: StepSafety) -> str:
    """What is breathed through.

    Parameters
    ----------
    safety : StepSafety
        Of a step or a product.

    Returns
    -------
    str
        Such as ``vapour and particle mask A2-P3``; empty where nothing is asked for.
    """
    if not safety.breathing:
        return ""
    return f"{_MASK_WORDS[safety.breathing]} {safety.cartridge}".rstrip()


def mind_words(safety: StepSafety) -> str:
    """The caution of a step in brief, for the place where the step stands.

    Parameters
    ----------
    safety : StepSafety
        Of the step.

    Returns
    -------
    str
        Empty where there is none.
    """
    told = (worn_words(safety), minded_words(safety))
    return " ".join(part for part in told if part)


def minded_words(safety: StepSafety) -> str:
    """The caution of a step in brief, beside what is breathed through.

    Parameters
    ----------
    safety : StepSafety
        Of the step.

    Returns
    -------
    str
        Empty where there is none.
    """
    minded = [_MIND[each] for each in safety.hazards]
    if safety.air_until is not None:
        # How long the booth stays on is told with the supplied air.
        skin = _BOOTH_ON if safety.in_booth else _SKIN
        minded = [skin if each == _MIND["isocyanate"] else each for each in minded]
        minded.insert(0, kept_words(safety))
    return " ".join(each for each in minded if each)


def kept_words(safety: StepSafety) -> str:
    """How long supplied air stays on in an open shop after isocyanate was sprayed.

    Parameters
    ----------
    safety : StepSafety
        Of a step.

    Returns
    -------
    str
        Empty where none hangs in the air, and in a booth, which the mask itself tells.
    """
    if safety.air_until is None or safety.in_booth:
        return ""
    return f"Kept on till {safety.air_until:%H:%M} at least, others out."


def product_words(product: Product) -> str:
    """The cautions of a product in brief, for the bench where it is mixed.

    Parameters
    ----------
    product : Product
        The product.

    Returns
    -------
    str
        Sentences; the data sheets have the last word in them.
    """
    minded = mind_words(product_safety(product))
    said = f"{minded} " if minded else ""
    return f"{said}{BY_THE_SHEET}"


def worn_words(safety: StepSafety) -> str:
    """What is breathed through, for a step that follows at once on one that says more.

    Parameters
    ----------
    safety : StepSafety
        Of the step.

    Returns
    -------
    str
        Such as ``Supplied air till 09:05.``, when a booth has cleared; empty where
        nothing is asked for.
    """
    mask = mask_words(safety)
    if not mask:
        return ""
    in_booth = safety.in_booth and safety.air_until is not None
    until = f" till {safety.air_until:%H:%M}" if in_booth else ""
    return f"{capital(mask)}{until}."


def open_shop_words(clearing_min: float) -> str:
    """What spraying isocyanate outside a booth asks for.

    Parameters
    ----------
    clearing_min : float
        How long supplied air stays on after it. [min]

    Returns
    -------
    str
        Sentences.
    """
    return (
        "Two-pack paint belongs in a booth. Sprayed in an open shop its mist fills the "
        "whole room: shut it, put a sign on its doors, keep everybody without supplied "
        f"air out, and keep supplied air on until {clearing_min:.0f} min after the "
        "last coat, whatever is sprayed or cleaned meanwhile (HSE guidance on two-pack "
        "spraying in vehicle repair). A longer time that is measured in this shop, and "
        "the local code, go before that."
    )


def booth_words(booth: Booth, units: Units) -> str:
    """Air changes and purge time of a booth, or what is asked for them.

    Parameters
    ----------
    booth : Booth
        What is known of it.
    units : Units
        What it is shown in.

    Returns
    -------
    str
        Sentences.
    """
    said = []
    if booth.changes_per_h is None or booth.purge_min is None:
        said.append(ASKED_OF_BOOTH)
    else:
        said.append(
            f"{units.room.show(booth.volume_m3)} with "
            f"{units.airflow.show(booth.flow_m3_per_h)}: {booth.changes_per_h:.0f} "
            "air changes an hour. Were its air well mixed, it would be down to "
            f"{percent(CLEARED_SHARE)} in {booth.purge_min:.1f} min; corners take "
            "longer."
        )
    if booth.clearance_min is not None:
        said.append(
            f"Measured clearance time {booth.clearance_min:g} min: it goes before any "
            "figure that is worked out."
        )
    elif booth.changes_per_h is not None:
        said.append("Not measured yet: have its clearance time measured with smoke.")
    if booth.clearance_min is None:
        said.append(_NOT_MEASURED)
    return " ".join(said)


def clearance_words(booth: Booth) -> tuple[str, tuple[str, ...]]:
    """How long a booth takes to clear, for its sheet, or what is to be written there.

    Parameters
    ----------
    booth : Booth
        What is known of it.

    Returns
    -------
    tuple of (str, tuple of str)
        A sentence, empty where it was not measured; and labels of lines to write on.
    """
    if booth.clearance_min is None:
        return "", (CLEARANCE,)
    return f"{CLEARANCE}: {booth.clearance_min:g}.", ()


def fire_words(materials: Iterable[Material], units: Units) -> str:
    """What can burn of a job when all of it is open.

    Parameters
    ----------
    materials : iterable of Material
        Of the job.
    units : Units
        What it is shown in.

    Returns
    -------
    str
        Empty where nothing has solvent in it.
    """
    found = tuple(materials)
    litres = open_solvent_l(found)
    if not litres:
        return ""
    return (
        f"Mixed in full the job has {units.bulk.show(litres)} of paint with "
        f"{units.mass.show(open_solvent_kg(found))} of solvent in it, from cans of "
        f"{units.bulk.show(opened_cans_l(found))}. Open what the next step takes and "
        "close it again; the local fire code says how much may stand outside the "
        "store, and which extinguisher."
    )


def steps_words(numbers: Sequence[int]) -> str:
    """Steps by their numbers.

    Parameters
    ----------
    numbers : sequence of int
        From 1, in order.

    Returns
    -------
    str
        Such as ``step 4`` or ``steps 3, 5 to 7 and 9``; empty for none.
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    told = [
        part
        for run in runs
        for part in (
            [f"{run[0]} to {run[-1]}"] if len(run) >= _RUN else [str(n) for n in run]
        )
    ]
    noun = "step" if len(numbers) == 1 else "steps"
    return f"{noun} {listed(told)}" if told else ""


def waste_words(kind: str, numbers: Sequence[int]) -> str:
    """Where a kind of waste goes, and what leaves it.

    Parameters
    ----------
    kind : str
        Of ``WASTE_WORDS``.
    numbers : sequence of int
        Steps that leave it, from 1.

    Returns
    -------
    str
    """
    return f"{WASTE_WORDS[kind]} ({steps_words(numbers)})."
