"""Each hazard has its cautions, and they say what matters."""

from itertools import permutations

import pytest

from shadecore.errors import JobError
from shadecore.job.cautions import CAUTIONS, DEFERRAL, cautions_for
from shadecore.products.product import HAZARDS


def test_each_hazard_has_cautions() -> None:
    assert tuple(CAUTIONS) == HAZARDS
    assert all(CAUTIONS.values())


@pytest.mark.parametrize(
    ("hazard", "words"),
    [
        ("isocyanate", ["supplied air", "clearance time", "asthma", "training"]),
        ("solvent", ["exhaust", "flames", "ground", "rags", "quarter"]),
        ("chromate", ["cancer", "waste"]),
        ("dust", ["extraction", "mask"]),
        ("acid", ["goggles", "gloves", "rinse"]),
        ("peroxide", ["goggles", "apart", "heats up"]),
        ("stripper", ["face shield", "dichloromethane", "closed rooms"]),
    ],
)
def test_cautions_say_what_matters(hazard: str, words: list[str]) -> None:
    """Supplied air until the clearance time has passed, asthma: HSE.

    Training: Regulation (EU) 2020/1149. A quarter of the lower flammable limit: NFPA
    33 in a published summary. The rest is common practice, no source.
    """
    text = " ".join(CAUTIONS[hazard])
    assert [word for word in words if word not in text] == []


def test_no_mask_is_offered_against_isocyanate() -> None:
    """Most samples were above limits, most painters wore filter masks.

    Reeb-Whitaker et al. 2012.
    """
    masks = [line for line in CAUTIONS["isocyanate"] if "mask" in line]
    assert all("no warning" in line for line in masks)


def test_the_order_is_fixed_and_each_comes_once() -> None:
    expected = cautions_for(HAZARDS)
    assert all(cautions_for(given) == expected for given in permutations(HAZARDS))
    assert cautions_for([*HAZARDS, "dust", "solvent"]) == expected
    assert len(set(expected)) == len(expected)
    hazards = list(dict.fromkeys(hazard for hazard, _ in expected))
    assert hazards == [*HAZARDS, "general"]


def test_they_defer_to_those_who_know() -> None:
    assert cautions_for(["dust"])[-1] == ("general", DEFERRAL)
    for word in ("data sheets", "local codes", "trained"):
        assert word in DEFERRAL
    assert cautions_for([]) == ()


def test_each_is_one_sentence() -> None:
    for _, line in cautions_for(HAZARDS):
        assert line[0].isupper()
        assert line.endswith(".")
        assert line.count(". ") == 0


def test_an_unknown_hazard_is_told() -> None:
    with pytest.raises(JobError, match=r"no hazard 'noise'.*isocyanate"):
        cautions_for(["dust", "noise"])
