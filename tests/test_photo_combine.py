"""Several photos of one swatch: weights, what does not average out, the odd one."""

import numpy as np
import pytest

from shadecore.errors import PhotoError
from shadecore.photo.combine import combine
from shadecore.photo.measure import Driver, PhotoColour


def photo(
    lab: tuple[float, float, float], light: float = 1.0, camera: float = 0.0
) -> PhotoColour:
    """A reading with independent doubt (light) and shared doubt (camera)."""
    return PhotoColour(
        lab,
        tuple(
            Driver(name, tuple(map(tuple, size**2 * np.eye(3))))
            for name, size in (("light", light), ("camera", camera))
        ),
        (f"about {lab[0]:g}",),
        "reference",
    )


def test_one_photo_stays_as_it_is() -> None:
    one = photo((50.0, 10.0, 5.0), camera=2.0)
    found = combine((one,))
    assert found.colour.lab == pytest.approx(one.lab)
    assert np.allclose(found.colour.covariance, one.covariance, atol=1e-6)
    assert found.odd is None


def test_equal_photos_are_averaged() -> None:
    found = combine((photo((50.0, 10.0, 5.0)), photo((52.0, 12.0, 3.0))))
    assert found.colour.lab == pytest.approx((51.0, 11.0, 4.0))
    assert found.colour.warnings == ("about 50", "about 52")


def test_the_surer_photo_counts_more() -> None:
    found = combine((photo((50.0, 0.0, 0.0), 0.5), photo((53.0, 0.0, 0.0), 3.0)))
    assert found.colour.lab[0] < 50.5


def test_what_photos_share_does_not_average_out() -> None:
    """Four photos halve their own doubt; the camera's stays."""
    photos = tuple(photo((50.0, 0.0, 0.0), 2.0, 3.0) for _ in range(4))
    sizes = {each.name: each.size for each in combine(photos).colour.drivers}
    assert sizes["light"] == pytest.approx(np.sqrt(3.0) * 2.0 / 2.0, rel=1e-6)
    assert sizes["camera"] == pytest.approx(np.sqrt(3.0) * 3.0)


@pytest.mark.parametrize("place", [0, 2, 3])
def test_the_odd_one_is_named_and_left_out(place: int) -> None:
    labs = [(50.0, 10.0, 5.0), (51.0, 9.5, 5.5), (49.5, 10.5, 4.5), (50.2, 10.1, 5.0)]
    labs[place] = (62.0, -4.0, 20.0)
    found = combine(tuple(photo(each) for each in labs))
    assert found.odd == place
    assert abs(found.colour.lab[0] - 50.0) < 1.0


def test_good_photos_are_seldom_accused() -> None:
    """Drawn from the doubt that they state: at most a few of three hundred."""
    rng = np.random.default_rng(8)
    accused = 0
    for _ in range(300):
        labs = np.array([50.0, 10.0, 5.0]) + rng.standard_normal((4, 3))
        odd = combine(tuple(photo((a, b, c)) for a, b, c in labs)).odd
        accused += odd is not None
    assert accused <= 6


def test_of_two_that_differ_neither_is_odd() -> None:
    found = combine((photo((50.0, 10.0, 5.0)), photo((70.0, -10.0, 25.0))))
    assert found.odd is None


def test_no_photo_is_refused() -> None:
    with pytest.raises(PhotoError, match="no photo to combine"):
        combine(())
