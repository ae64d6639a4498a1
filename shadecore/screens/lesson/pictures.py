"""Pictures of the lesson as HTML: panels, contrast card, judges."""

from html import escape
from typing import Final

from shadecore.film.drawdown import COMPLETE_HIDING
from shadecore.lesson.colours import Shown
from shadecore.lesson.contrast_card import ContrastCard, Judge
from shadecore.lesson.panels import Lesson, Strip
from shadecore.telling.counts import coats_words
from shadecore.telling.lesson_words import judge_words, likely_words
from shadecore.telling.names import grey_words
from shadecore.telling.numbers import beside_limit

STYLE: Final = """
<style>
[data-testid="stLayoutWrapper"]:has(> .st-key-lesson_coats_bar) {position: sticky;
  top: 3.4rem; z-index: 9; padding: .3rem 0; background: var(--sc-page);}
.st-key-lesson_coats_bar [data-testid="stSlider"] {min-width: 15rem;}
.sc-panels {display: grid; gap: .9rem .6rem; margin: 0;
  grid-template-columns: repeat(auto-fit, minmax(9.2rem, 1fr));}
.sc-panels figure {margin: 0;}
.sc-film {height: 11rem; border: 1px solid #8a8a8a; display: flex;
  flex-direction: column; justify-content: center;}
.sc-film i {display: block; height: 3.2rem;}
.sc-hidden .sc-film {border: 6px double currentColor;}
.sc-panels figcaption {padding-top: .3rem; line-height: 1.3;}
.sc-left {font-size: 1.9rem; font-weight: 700; line-height: 1.1; display: block;
  font-variant-numeric: tabular-nums;}
.sc-verdict {font-weight: 700; display: block;}
.sc-card {display: flex; height: 11rem; border: 1px solid #8a8a8a; max-width: 30rem;}
.sc-card i {flex: 1;}
.sc-steps {display: grid; gap: .4rem; margin: .8rem 0;
  grid-template-columns: repeat(auto-fill, minmax(3.6rem, 1fr));}
.sc-steps div {text-align: center; font-size: .875rem;
  font-variant-numeric: tabular-nums; padding: 3px; border: 2px solid transparent;}
.sc-steps .sc-now {border-color: currentColor; font-weight: 700;}
.sc-steps b {display: flex; height: 2.2rem; border: 1px solid #8a8a8a;}
.sc-steps b i {flex: 1;}
.sc-judges {border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums;}
.sc-judges th, .sc-judges td {text-align: left; vertical-align: top;
  padding: .45rem .6rem .45rem 0; border-bottom: 1px solid #8a8a8a;}
.sc-judges thead th {font-weight: 600;}
.sc-judges small {font-weight: 400;}
.sc-big {font-size: 1.3rem; font-weight: 700;}
@media (max-width: 640px) {.sc-film {height: 7rem;} .sc-film i {height: 2.2rem;}
  .sc-card {height: 7rem;}
  [data-testid="stLayoutWrapper"]:has(> .st-key-lesson_coats_bar) {top: 0;}}
</style>
"""
LARGE_STYLE: Final = """
<style>
[data-testid="stHeader"] {display: none;}
[data-testid="stLayoutWrapper"]:has(> .st-key-bottom_bar) {display: none !important;}
[data-testid="stMainBlockContainer"] {padding: 1rem 1.5rem;}
[data-testid="stLayoutWrapper"]:has(> .st-key-lesson_coats_bar) {top: 0;}
[data-testid="stMainBlockContainer"] {max-width: none;}
[data-testid="stMain"] p, .sc-legend {font-size: max(1.5rem, 2.7vh) !important;}
[data-testid="stMain"] p[role="status"] {font-size: max(2rem, 3.6vh) !important;
  margin: 0;}
.sc-film {height: 33vh;} .sc-film i {height: 9vh;}
.sc-panels figcaption, .sc-panels small {font-size: max(1.5rem, 2.7vh);
  line-height: 1.2;}
 .sc-left {font-size: 3.4rem; line-height: 1;}
/* The number over the slider's knob is too large here to stand so close to it. */
[data-testid="stMain"] [data-testid="stSliderThumbValue"] {top: -2.3rem;}
[data-testid="stMain"] [data-testid="stSlider"] [role="group"] {padding-top: 1.2rem;}
@media (max-width: 640px) {.sc-film {height: 9rem;} .sc-film i {height: 3rem;}
  .st-key-lesson_coats_bar > :has([data-testid="stSlider"]) {flex: 1 1 100%;}}
</style>
"""


def status_html(text: str) -> str:
    """A sentence that a screen reader says whenever it changes.

    Parameters
    ----------
    text : str
        The sentence.

    Returns
    -------
    str
    """
    return f'<p role="status"><strong>{escape(text)}</strong></p>'


def panels_html(lesson: Lesson, coats: int) -> str:
    """The film over each undercoat, a stripe of the full colour across every panel.

    Where the film hides, the stripe disappears in it.

    Parameters
    ----------
    lesson : Lesson
        The lesson.
    coats : int
        0 to the cap.

    Returns
    -------
    str
    """
    panels = "".join(_panel(each, lesson, coats) for each in lesson.panels)
    star = "*" * lesson.full.outside
    full = (
        f'<figure><div class="sc-film" role="img" data-panel="full" '
        f'aria-label="Full colour" style="background:{lesson.full.hex}"></div>'
        f"<figcaption><strong>Full colour{star}</strong><br>"
        f"L* {lesson.full.lab[0]:.1f}</figcaption></figure>"
    )
    return f'<div class="sc-panels">{panels}{full}</div>'


def _panel(panel: Strip, lesson: Lesson, coats: int) -> str:
    film = panel.film[coats]
    hides = panel.hides(coats)
    left = beside_limit(panel.difference[coats], lesson.settings.tolerance, 1)
    grey = panel.undercoat
    measured = grey_words(grey.lightness)
    said = "hides" if hides else "does not hide yet"
    label = f"{grey.name} after {coats_words(coats)}: difference {left}, {said}"
    verdict = "✓ hides" if hides else "still shows" if coats else "bare sealer"
    usual = f"<br><small>{likely_words(panel.estimate.count)}</small>"
    return (
        f'<figure{" class=sc-hidden" * hides}><div class="sc-film" role="img" '
        f'data-panel="{escape(grey.name)}" aria-label="{escape(label)}" '
        f'style="background:{film.hex}">'
        f'<i style="background:{lesson.full.hex}"></i></div>'
        f'<figcaption><span class="sc-left">{left}{"*" * film.outside}</span>'
        f'<span class="sc-verdict">{verdict}</span>'
        f"{escape(grey.name)}<br><small>{measured}</small>{usual * hides}"
        "</figcaption></figure>"
    )


def card_html(card: ContrastCard, coats: int) -> str:
    """The contrast card large, and all its coats small.

    Parameters
    ----------
    card : ContrastCard
        The card.
    coats : int
        Coats on the large one.

    Returns
    -------
    str
    """
    ratios = [beside_limit(each, COMPLETE_HIDING, 2) for each in card.contrast_ratio]
    steps = "".join(
        f'<div{" class=sc-now aria-current=true" * (n == coats)}><b aria-hidden="true">'
        f"{_halves(card, n)}</b>{n or 'bare'}<br>{ratio}</div>"
        for n, ratio in enumerate(ratios)
    )
    return (
        f'<div class="sc-card" role="img" data-card="{coats}" '
        f'aria-label="Contrast card after {coats_words(coats)}: contrast ratio '
        f'{ratios[coats]}">{_halves(card, coats)}</div>'
        f'<div class="sc-steps">{steps}</div>'
    )


def _halves(card: ContrastCard, coats: int) -> str:
    halves: tuple[Shown, ...] = (card.over_black[coats], card.over_white[coats])
    return "".join(f'<i style="background:{each.hex}"></i>' for each in halves)


def judges_html(card: ContrastCard, coats: int) -> str:
    """What each judge says after some coats, and from when it is satisfied.

    Parameters
    ----------
    card : ContrastCard
        The card.
    coats : int
        0 to the cap.

    Returns
    -------
    str
    """
    rows = "".join(_judge(each, coats) for each in card.judges)
    return (
        '<table class="sc-judges"><thead><tr><th scope="col">Compared by</th>'
        f'<th scope="col">After {coats_words(coats)}</th>'
        f'<th scope="col">Hidden from</th></tr></thead><tbody>{rows}</tbody></table>'
    )


def _judge(judge: Judge, coats: int) -> str:
    verdict = "✓ hidden" if judge.hidden(coats) else "still seen"
    seen = beside_limit(judge.difference[coats], judge.limit, 1)
    return (
        f'<tr><th scope="row">{escape(judge.name)}<br><small>{escape(judge.rule)}, up '
        f'to {judge.limit:g}</small></th><td><span class="sc-big">'
        f"{seen}</span><br>{verdict}</td>"
        f"<td>{judge_words(judge, len(judge.difference) - 1)}</td></tr>"
    )
