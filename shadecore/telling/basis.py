"""What an answer rests on, and what is said beside every answer."""

from typing import Final

LAST_WORD: Final = (
    "The product's data sheet and a sprayed-out test card have the last word."
)
BASIS: Final = {
    "colour": "Estimated from the colour alone, with plausible recipes (modelled, not "
    f"measured). {LAST_WORD}",
    "spectrum": "The spectrum says how much the paint absorbs beside how much it "
    "scatters; how much it scatters is estimated with plausible recipes (modelled). "
    f"{LAST_WORD}",
    "photo": "The colour is read off a photo, with its doubt; the paint is estimated "
    f"from it with plausible recipes (modelled, not measured). {LAST_WORD}",
    "angles": "Estimated from the colour at several angles, with plausible effect "
    f"paints (modelled; no sprayed panel was measured for them). {LAST_WORD}",
    "test card": "Absorption and scattering are fitted to the test card; other films "
    "and sealers are modelled from them. The product's data sheet has the last word.",
}
"""What an answer rests on, by ``Answer.basis``."""
CAUTION: Final = (
    "Spray only with the protection the data sheets and local rules ask for: "
    "hardeners contain isocyanates, so supplied air; ventilate, keep sparks and "
    "flames away, ground the gun."
)
RELIABLE: Final = (
    "Each number of coats has a chance of being enough. On a thousand simulated "
    "paints, chances between 50 and 90 % came out too high: of the films said to hide "
    "with 75 %, about 60 % did. A perfect forecast lies on the straight line. Real "
    "paints may differ: a test card of yours counts for more."
)
"""How far to trust the chances; stands beside their curve."""
SCREEN_NOTE: Final = "A screen is not a paint chip."
PAPER_NOTE: Final = "A printed or shown swatch is not a paint chip."
LEFT_NOTE: Final = "Number: difference left to the full colour. Framed: hidden."
OUTSIDE_NOTE: Final = "* lies outside what a screen can show."
MODELLED: Final = (
    "Modelled, not measured: the film shown is the likely paint whose coats come "
    "nearest to the estimate; real paints of this colour differ, as the intervals say. "
    f"The lesson's colours and greys are invented. {LAST_WORD}"
)
EYE_NOTE: Final = (
    "That the eye just notices a difference of 1 edge to edge is a rule of thumb, "
    "common practice, no source: light, size and training move it."
)
