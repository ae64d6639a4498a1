"""What to beware of, for each hazard that a product brings."""

from collections.abc import Iterable
from typing import Final

from shadecore.errors import JobError
from shadecore.products.product import HAZARDS

DEFERRAL: Final = (
    "These lines only remind: the products' safety data sheets, the local codes and "
    "trained practice go before anything written here."
)
"""How cautions end."""

# Isocyanate: HSE guidance on two-pack spraying in vehicle repair (supplied air, booth
# clearance time, 30 minutes in an open workshop, urine checks, asthma); Reeb-Whitaker
# et al. 2012 (masks that were worn, and air over the limits); Regulation (EU) 2020/1149
# (training).
# Solvent: NFPA 33 in a published summary (vapour at most a quarter of the lower
# flammable limit). Dichloromethane in paint strippers: Regulation (EC) 1907/2006, Annex
# XVII, entry 59, from memory. Waste rags, chromate, dust, acid, peroxide and other
# strippers: common practice, no source.
CAUTIONS: Final[dict[str, tuple[str, ...]]] = {
    "isocyanate": (
        (
            "The hardener holds isocyanates, a leading cause of asthma among "
            "painters; once sensitised, a person may never spray it again."
        ),
        (
            "Spray it only in a running booth and with supplied air: a filter mask "
            "gives no warning when it lets isocyanate through."
        ),
        (
            "Keep the supplied air on until the booth's measured clearance time has "
            "passed, in an open shop 30 minutes, also for lifting the visor, for "
            "cleaning the gun and for whatever is sprayed next."
        ),
        "Cover skin and eyes, and let nobody without supplied air into the booth.",
        (
            "Ask about training, which the European Union requires, and about "
            "regular checks of lungs and urine."
        ),
    ),
    "solvent": (
        (
            "Mix, spray and clean guns where exhaust air runs, so that vapour stays "
            "well below a quarter of what could burn."
        ),
        (
            "Keep flames, sparks, heaters and phones away until the vapour is gone; "
            "it creeps along the floor."
        ),
        (
            "Bond and ground drums, cans and the car before pouring or spraying, "
            "because static can light the vapour."
        ),
        (
            "Put used rags and masking into a closed metal bin and empty it daily: "
            "some heat up by themselves."
        ),
        (
            "Wear gloves that the solvent does not pass, and a mask for organic "
            "vapour where supplied air is not already called for."
        ),
    ),
    "chromate": (
        (
            "Chromate in etch primer and in old coatings can cause cancer: breathe "
            "neither its mist nor its dust."
        ),
        (
            "Sand it wet or under extraction, never dry in the open shop, and look "
            "for a primer without chromate."
        ),
        "Collect its dust, sludge and wash water as hazardous waste.",
    ),
    "dust": (
        (
            "Sand with extraction at the tool and a well-fitting particle mask; "
            "blowing dust off with air only spreads it."
        ),
        "Take old paint for leaded or chromated until a test says otherwise.",
        "Two-pack films that are not fully cured can hold isocyanate: mind their dust.",
    ),
    "acid": (
        (
            "The activator of an etch primer holds acid, often phosphoric, which burns "
            "eyes and skin: goggles, gloves and long sleeves also for pouring."
        ),
        (
            "Mix it in a plastic cup, not in bare metal, which it eats; never spray "
            "what is left of it as a cleaner."
        ),
        "In the eye: rinse with water for a quarter of an hour, then see a doctor.",
    ),
    "peroxide": (
        (
            "The hardener of filler is an organic peroxide: it can blind an eye and "
            "irritates the skin, so goggles and gloves for mixing."
        ),
        (
            "Keep it cool, closed and apart from other hardeners and metal salts, and "
            "never add more than the tube says: it can catch fire by itself."
        ),
        (
            "Mixed filler heats up as it sets: let rests set in a thin layer in the "
            "open before they go into a bin."
        ),
    ),
    "stripper": (
        (
            "Paint stripper burns eyes and skin within minutes: face shield, long "
            "gloves and an apron that its sheet names, and water at hand."
        ),
        (
            "Some hold dichloromethane, whose vapour kills in pits and closed rooms "
            "and passes through cartridges; the European Union restricts it."
        ),
        "Work with open doors or exhaust at the floor, and never alone.",
    ),
}
"""Cautions by hazard."""


def cautions_for(hazards: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """Cautions of some hazards, each once and always in the same order.

    Parameters
    ----------
    hazards : iterable of str
        Of ``shadecore.products.product.HAZARDS``, in any order.

    Returns
    -------
    tuple of (str, str)
        Hazard and one sentence, ``("general", DEFERRAL)`` last; empty where there is
        no hazard.

    Raises
    ------
    JobError
        If a hazard is not known.
    """
    given = set(hazards)
    unknown = sorted(given.difference(CAUTIONS))
    if unknown:
        message = (
            f"There is no hazard {unknown[0]!r}; choose from {', '.join(HAZARDS)}."
        )
        raise JobError(message)
    lines = [
        (each, line) for each in HAZARDS if each in given for line in CAUTIONS[each]
    ]
    return (*lines, ("general", DEFERRAL)) if lines else ()
