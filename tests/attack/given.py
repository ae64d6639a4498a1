"""What each door takes as it should be; the damage starts from here."""

from datetime import UTC, datetime
from functools import cache
from typing import Final

from shadecore.book.exchange import write_colours
from shadecore.book.records import BookColour
from shadecore.card.card_table import parse_card
from shadecore.coats.seen_table import parse_seen
from shadecore.colour.appearance import WAVELENGTHS_NM
from shadecore.datafiles import data_file
from shadecore.job.job_file import parse_job
from shadecore.job.job_link import job_parameters, products_parameters
from shadecore.job.own_steps import StepChange
from shadecore.job.step_files import write_steps
from shadecore.question.link import to_link
from shadecore.question.question import Question
from shadecore.undercoats.shelf_table import demo_shelf, parse_shelf

WORDS: Final = (
    "45 60 35",
    "lch 45 69 30",
    "xyz 24 14 5",
    "Yxy 14 0.56 0.33",
    "srgb 200 45 53",
    "#c82d35",
    "5R 4/14",
    "N 5.5",
    "-- -6e1 0 0",
)
TOOK: Final = ("4 over White N 9", "2 to 3", "up to 4 over White N 9", "more than 3")
COLOURS: Final = (
    "# invented\ncode,L,a,b\nBrick,45,60,35\nMarigold,72,30,80\n",
    (
        "code,kind,L15,a15,b15,L45,a45,b45,L110,a110,b110\n"
        "Silver,metallic,109,0,-1,35,0,-1.5,13,0,-2\n"
    ),
)
_BANDS: Final = ",".join(map(str, WAVELENGTHS_NM))
_FLAT: Final = ",".join(["0.4"] * len(WAVELENGTHS_NM))
SHELVES: Final = (
    "name,L,a,b,price,unit,finish\nWhite,90.2,0,1,31.00,L,gloss\nDark,40,0,0,,,matt\n",
    f"name,{_BANDS}\nGrey,{_FLAT}\nOther,{_FLAT}\n",
)
SEEN: Final = (
    "code,source,undercoat,coats_low,coats_high,hid,film_um,tolerance,undercoat_L\n"
    "Brick,job,White N 9,3,4,yes,10,2,\nBrick,data-sheet,,2,3,yes,,,\n"
    "Brick,check,Own,1,2,no,,,56\n"
)
CARDS: Final = (
    (
        "area,coats,L,a,b\nblack,0,8,0,0\nwhite,0,93,0,0\nblack,1,38,28,14\n"
        "white,1,58,44,30\nblack,2,42,45,26\nwhite,2,50,54,33\n"
    ),
    "area,coats,Y\nblack,1,5\nwhite,1,30\nblack,2,8\nwhite,2,20\n",
)
ANGLES: Final = (
    "code,L15,a15,b15,L45,a45,b45,L110,a110,b110\nS,109,0,-1,35,0,-1.5,13,0,-2\n",
    "wavelength,15,45,110\n" + "".join(f"{nm},1.1,.1,.02\n" for nm in WAVELENGTHS_NM),
    "15 45 110\nL* 109 35 13\na* 0 0 0\nb* -1 -1.5 -2\n",
)
SPECTRA: Final = (
    "wavelength,reflectance\n" + "".join(f"{nm},0.3\n" for nm in WAVELENGTHS_NM),
    "wavelength;reflectance\n"
    + "".join(f"{nm} nm;30,5\n" for nm in WAVELENGTHS_NM[::2]),
)
_READINGS: Final = "L25,a25,b25,L45,a45,b45,L75,a75,b75"
PANELS: Final = (
    (
        f"area,{_READINGS}\ncar,80,1,4,70,1,3,60,0,2\n0,90,0,1,88,0,1,86,0,1\n"
        "1,85,0,3,80,0,2,74,0,2\n2,81,1,4,71,1,3,62,0,2\n"
    ),
)
STRIPS: Final = (
    (
        f"area,{_READINGS}\ntarget,40,60,30,35,55,28,30,50,25\n"
        "0,80,2,2,70,2,2,60,2,2\n2,60,40,20,50,36,18,42,30,15\n"
    ),
)
DAYS: Final = (
    (
        "date,air_c,humidity_percent,panel_c,night_c\n2026-12-01,20,55,21,8\n"
        "2026-12-02,14,70,,2\n"
    ),
)


@cache
def jobs() -> tuple[str, ...]:
    """Job files."""
    return (data_file("demo-job.toml").read_text("utf-8"),)


@cache
def sheets() -> tuple[str, ...]:
    """Product sheets."""
    return (data_file("product-line.toml").read_text("utf-8"),)


@cache
def step_sets() -> tuple[str, ...]:
    """Sets of a shop's own steps."""
    changes = (
        StepChange("wash", drop=True),
        StepChange("mask_2", after="sealer", title="Mask twice", work_min=15.0),
        StepChange("block_sand", grits=(180, 320), check="No scratch shows."),
    )
    return (write_steps("Our way", changes),)


@cache
def instruments() -> dict[str, bytes]:
    """Colours as instruments write them, by the end of the file's name."""
    colours = (
        BookColour("Brick", (45.0, 60.0, 35.0), code="B1"),
        BookColour("Grey", (68.0, 0.0, 0.0), reflectance=(0.4,) * len(WAVELENGTHS_NM)),
    )
    when = datetime(2026, 1, 2, tzinfo=UTC)
    return {
        ".cxf": write_colours(colours, "cxf", when),
        ".txt": write_colours(colours, "cgats", when),
    }


@cache
def links() -> tuple[dict[str, str], ...]:
    """Parameters of links, a page's own among them."""
    job = parse_job(jobs()[0], "job")
    shelf, _ = parse_shelf(SHELVES[1], "shelf")
    question = Question(
        "72 30 80",
        shelf=shelf,
        card=parse_card(CARDS[0], "card"),
        seen=tuple(each.seen for each in parse_seen(SEEN, "seen", demo_shelf())),
        units="us",
        areas=("Grey", "Other"),
    )
    return (
        {**to_link(question)},
        {
            **to_link(job.question),
            **{name: text or "" for name, text in job_parameters(job).items()},
            **{
                name: text or ""
                for name, text in products_parameters(sheets()[0]).items()
            },
        },
        {"seed": "7", "answers": "0-1-2", "film_um": "12", "tolerance": "1"},
    )
