"""Time and memory of reading a photo of 24 megapixels, from its bytes to the pick.

Run it by ``python tests/benchmarks/photo.py``. The photo is simulated and kept in a
temporary folder while the benchmark runs. Each row runs in a process of its own, beside
scikit-image turning the same picture to CIELAB pixel by pixel. Times vary from machine
to machine; the ratios are what to read.
"""

import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

os.environ.setdefault("COLOUR_SCIENCE__FILTER_USAGE_WARNINGS", "True")

import numpy as np

SEED = 5
REPEATS = 2
REFERENCES = ("grey card", "chart")
BYTES_OF_RUSAGE = 1024 if sys.platform.startswith("linux") else 1
"""Unit of the peak memory that the system reports. [bytes]"""


def simulate(reference: str, folder: Path) -> None:
    """Put a photo and its marks into a folder.

    Parameters
    ----------
    reference : str
        What lies beside the swatch.
    folder : pathlib.Path
        Where they go.
    """
    sys.path.insert(0, str(Path(__file__).parents[1]))
    from validation.camera import Conditions, draw_scene, photograph  # noqa: PLC0415
    from validation.camera.files import FileKind  # noqa: PLC0415
    from validation.camera.photograph import draw_taking  # noqa: PLC0415
    from validation.camera.scene import SIZE_24_MEGAPIXELS  # noqa: PLC0415

    rng = np.random.default_rng(SEED)
    conditions = Conditions(size=SIZE_24_MEGAPIXELS)
    scene = draw_scene(rng, reference, conditions)
    taking = draw_taking(scene, rng)
    jpeg = FileKind(".jpg", quality=92, orientation=6)
    shot = photograph(
        scene,
        rng,
        type(taking)(0.5, taking.sensor, taking.development, jpeg),
    )
    (folder / "photo.jpg").write_bytes(shot.content)
    marks = {
        "swatch": shot.swatch,
        "references": shot.references,
        "chart": shot.chart_corners,
    }
    (folder / "marks.json").write_text(json.dumps(marks))


class Times(NamedTuple):
    """How long a piece of work takes.

    Attributes
    ----------
    first : float
        The first time, with loading of libraries and tables. [s]
    best : float
        Best of the next. [s]
    """

    first: float
    best: float


def read(folder: Path) -> Times:
    """From the bytes of a photo to its pick."""
    from shadecore import Topcoat, demo_shelf  # noqa: PLC0415
    from shadecore.coats.pick import pick  # noqa: PLC0415
    from shadecore.coats.uncertain import choices, uncertain_paints  # noqa: PLC0415
    from shadecore.photo.area import Area  # noqa: PLC0415
    from shadecore.photo.measure import Marks, measure_swatch  # noqa: PLC0415
    from shadecore.photo.picture import open_picture  # noqa: PLC0415
    from shadecore.photo.reference import REFERENCES as KNOWN  # noqa: PLC0415

    content, marked = _given(folder)
    marks = Marks(
        Area(*marked["swatch"]),
        tuple((Area(*box), KNOWN[kind]) for kind, box in marked["references"]),
        marked["chart"] and tuple(map(tuple, marked["chart"])),
    )

    def work() -> None:
        picture = open_picture(content, "photo.jpg")
        colour = measure_swatch(picture, marks)
        doubt = (colour.lab, colour.covariance)
        paints = uncertain_paints(*doubt)
        pick(Topcoat(colour.lab, "read off a photo"), demo_shelf(), paints=paints)
        choices(*doubt, demo_shelf())

    return _times(work)


def find(folder: Path) -> Times:
    """Open a photo and look for a chart on it."""
    from shadecore.photo.chart import find_chart  # noqa: PLC0415
    from shadecore.photo.picture import open_picture  # noqa: PLC0415

    content, _ = _given(folder)
    return _times(lambda: find_chart(open_picture(content, "photo.jpg")))


def whole_image(folder: Path) -> Times:
    """Let scikit-image turn the whole picture to CIELAB."""
    import io  # noqa: PLC0415

    from PIL import Image  # noqa: PLC0415
    from skimage.color import rgb2lab  # noqa: PLC0415

    content, _ = _given(folder)
    return _times(lambda: rgb2lab(np.asarray(Image.open(io.BytesIO(content)))))


def _given(folder: Path) -> tuple[bytes, dict]:
    return (
        (folder / "photo.jpg").read_bytes(),
        json.loads((folder / "marks.json").read_text()),
    )


def _times(work: Callable[[], object]) -> Times:
    times = []
    for _ in range(REPEATS + 1):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return Times(times[0], min(times[1:]))


WORK = {"read": read, "find": find, "whole": whole_image}


def measured(name: str, folder: Path) -> tuple[Times, float]:
    """Times, and peak memory in GB, of a piece of work in a process of its own."""
    done = subprocess.run(
        [sys.executable, __file__, name, str(folder)],
        stdout=subprocess.PIPE,
        text=True,
        check=True,
    )
    first, best, peak = map(float, done.stdout.split())
    return Times(first, best), peak / 1e9


def main() -> None:
    """Print the rows."""
    for reference in REFERENCES:
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            subprocess.run(
                [sys.executable, __file__, "simulate", reference, name], check=True
            )
            peer, peer_peak = measured("whole", folder)
            rows = {"bytes to pick": "read"}
            if reference == "chart":
                rows["open and find the chart"] = "find"
            for label, work in rows.items():
                own, peak = measured(work, folder)
                sys.stdout.write(
                    f"{reference:<10} {label:<24} {own.best:6.2f} s "
                    f"(first {own.first:.2f} s) {peak:5.2f} GB   "
                    f"scikit-image rgb2lab {peer.best:6.2f} s {peer_peak:5.2f} GB   "
                    f"peer/own {peer.best / own.best:6.1f}, {peer_peak / peak:4.1f}\n"
                )
                sys.stdout.flush()


if __name__ == "__main__":
    if sys.argv[1:2] == ["simulate"]:
        simulate(sys.argv[2], Path(sys.argv[3]))
    elif sys.argv[1:]:
        taken = WORK[sys.argv[1]](Path(sys.argv[2]))
        usage = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * BYTES_OF_RUSAGE
        sys.stdout.write(f"{taken.first} {taken.best} {usage}\n")
    else:
        main()
