"""What is usual for each step of a job, in the trade's order.

Order, grits, tests and minutes: common practice, no source.
"""

from dataclasses import dataclass
from typing import Final

CURE: Final = "cure"
"""Key of the step in which nobody works and the clear coat cures."""
CLEAN: Final = "clean_gun"
"""Begins the keys of steps that clean a gun."""
CLEAR: Final = "clear_coat"
"""Key of the step whose gun is cleaned by ``CLEAN`` itself."""
LONGEST_KEY: Final = 40
"""Of a step, as a file may have it."""
_NIBS: Final = "de_nib"
"""Begins the keys of steps that take off nibs between coats."""
UNMASK: Final = "unmask"
"""Key of the step that may follow on a panel that is still warm."""


def is_cure(key: str) -> bool:
    """Whether a step is one in which clear cures.

    Parameters
    ----------
    key : str
        The step's; more than one clear coat has a cure of its own.

    Returns
    -------
    bool
    """
    return key == CURE or (key.startswith(f"{CURE}_") and key != "cure_before_wax")


def is_clean(key: str) -> bool:
    """Whether a step cleans a gun, for which no film has to dry.

    Parameters
    ----------
    key : str
        The step's.

    Returns
    -------
    bool
    """
    return key == CLEAN or key.startswith(f"{CLEAN}_")


def clean_key(sprayed: str) -> str:
    """Key of the step that cleans the gun of another one.

    Parameters
    ----------
    sprayed : str
        Key of the step that sprays.

    Returns
    -------
    str
        Short enough for a file.
    """
    return CLEAN if sprayed == CLEAR else f"{CLEAN}_{sprayed}"[:LONGEST_KEY]


def is_de_nib(key: str) -> bool:
    """Whether a step takes off nibs only, which leaves the film open as it was.

    Parameters
    ----------
    key : str
        The step's.

    Returns
    -------
    bool
    """
    return key == _NIBS or key.startswith(f"{_NIBS}_")


@dataclass(frozen=True)
class Usual:
    """What is usual for a step, whatever the products.

    Attributes
    ----------
    title, purpose, check : str
        What is done, what for, and what to check before going on.
    work_min : float
        Hands-on time; that of what is sprayed follows from its coats. [min]
    kind : str or None
        Kind of product that it uses, of ``shadecore.products.product.KINDS``.
    grits : tuple of int
        P grits, coarse first.
    """

    title: str
    purpose: str
    check: str
    work_min: float = 0.0
    kind: str | None = None
    grits: tuple[int, ...] = ()


USUAL: Final = {
    "wash": Usual(
        "Wash with soap and water",
        "Takes off salt and dirt, which no solvent dissolves.",
        "Water sheets off and the panel is dry, seams and edges too.",
        20.0,
    ),
    "solvent_wipe": Usual(
        "Wipe with cleaner",
        "Takes off wax, grease and silicone before paper drives them in.",
        "Wiped wet and dried with a second cloth before it flashed; no streaks.",
        10.0,
        "cleaner",
    ),
    "filler": Usual(
        "Fill and shape",
        "Levels what the hammer leaves; its edge is feathered with the paint about it.",
        "No edge, pinhole or low spot under the palm or a guide coat.",
        60.0,
        "filler",
        (80, 180),
    ),
    "sand_for_surfacer": Usual(
        "Sand for surfacer",
        "Gives the surfacer a tooth that it can fill.",
        "Even and dull all over, edges feathered, no shine left.",
        30.0,
        grits=(320, 400),
    ),
    "solvent_wipe_2": Usual(
        "Blow off and wipe with cleaner",
        "Takes off sanding dust and finger marks.",
        "A clean cloth stays clean; filler is dry.",
        10.0,
        "cleaner",
    ),
    "etch_primer": Usual(
        "Etch primer on bare metal",
        "Bites into the metal so that the surfacer holds and no rust creeps.",
        "Thin, wet and see-through on the metal only, not on filler; do not sand it "
        "before its time.",
        kind="etch_primer",
    ),
    "surfacer": Usual(
        "Surfacer",
        "Fills sanding scratches and gives a level to block.",
        "Each coat dull before the next; thick enough to block, not to cut through.",
        kind="surfacer",
    ),
    "block_sand": Usual(
        "Block sand the surfacer",
        "Makes it flat; the last grit is as fine as the base coat hides.",
        "Guide coat gone everywhere and nothing cut through; prime what is bare again.",
        60.0,
        grits=(400, 600),
    ),
    "solvent_wipe_3": Usual(
        "Blow off and wipe with cleaner",
        "The last cleaning before colour.",
        "Dry, no dust in seams, masking tight; tack cloth just before the gun.",
        10.0,
        "cleaner",
    ),
    "sealer": Usual(
        "Seal",
        "Gives the base coat one even colour below and keeps solvent out.",
        "One closed, even coat of the picked sealer; nibs taken off.",
        kind="sealer",
    ),
    "base_coat": Usual(
        "Base coat",
        "The colour, in as many coats as it takes to hide.",
        "Hides, even and dull. Tape or finger test before clear: on a masked edge the "
        "film neither strings nor marks.",
        kind="base_coat",
    ),
    "clear_coat": Usual(
        "Clear coat",
        "Gloss, and the shield of the colour.",
        "Wet and closed without runs; each coat flashed until it no longer strings.",
        kind="clear_coat",
    ),
    CURE: Usual(
        "Let the clear cure",
        "A film that is not cured loads the paper and sinks later.",
        "Once the panel is as cool as the shop, a thumb nail leaves no mark.",
    ),
    "sand_clear": Usual(
        "Sand the clear flat",
        "Takes off the texture so that the last coats flow on a level.",
        "Dull and flat, colour not touched; blown off and wiped before the next coat.",
        60.0,
        grits=(800,),
    ),
    "clear_coat_2": Usual(
        "Clear coat again",
        "Closes the sanded clear; with nothing left to level it dries flat.",
        "Wet and closed without runs; each coat flashed until it no longer strings.",
        kind="clear_coat",
    ),
    "cut": Usual(
        "Cut nibs and texture",
        "Takes off what stands out, no more than it must.",
        "Evenly dull where cut; edges left alone, they are thinnest.",
        90.0,
        grits=(2000,),
    ),
    "polish": Usual(
        "Polish",
        "Takes out the last scratches and brings the gloss back.",
        "No haze or swirl under a lamp from the side; panel never hot to the hand.",
        90.0,
        "polish",
    ),
}
