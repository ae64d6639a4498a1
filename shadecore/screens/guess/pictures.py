"""Pictures of the exercise as HTML: the colour, the choices, what each costs."""

from html import escape
from typing import Final

from shadecore.lesson.colours import shown
from shadecore.lesson.guess import POINTS, Exercise, ExerciseColour, Score
from shadecore.telling.counts import coats_words, number_words
from shadecore.telling.exercise_words import names_of, points_words
from shadecore.undercoats.shelf import Shelf

STYLE: Final = """
<style>
.sc-question {height: 12rem; border: 1px solid #8a8a8a;}
.sc-costs {display: grid; gap: .9rem .6rem;
  grid-template-columns: repeat(auto-fit, minmax(9.2rem, 1fr));}
.sc-costs > div {padding: .6rem; border: 2px solid #8a8a8a;}
.sc-costs .sc-best {border: 6px double currentColor;}
.sc-costs i {display: block; height: 3.5rem; border: 1px solid #8a8a8a;}
.sc-costs b {font-size: 2.4rem; line-height: 1.1; display: block;
  font-variant-numeric: tabular-nums;}
.sc-score {font-size: 1.3rem; font-weight: 700;}
@media (max-width: 640px) {.sc-question {height: 7rem;}}
</style>
"""
LARGE_STYLE: Final = """
<style>
[data-testid="stHeader"] {display: none;}
[data-testid="stLayoutWrapper"]:has(> .st-key-bottom_bar) {display: none !important;}
[data-testid="stMainBlockContainer"] {padding: 1rem 1.5rem; max-width: none;}
[data-testid="stMain"] h3 {font-size: max(2rem, 3.6vh); padding: 0;}
[data-testid="stMain"] p, .sc-costs, .sc-tally, .sc-score, .sc-table, .sc-table td,
.sc-table th {font-size: max(1.5rem, 2.7vh) !important;}
[data-testid="stMain"] .sc-code {font-size: 3.4rem !important;}
.sc-question {height: 26vh;}
[data-testid="stMain"] [class*="st-key-guess_choice_"] button {min-height: 18vh;}
.sc-revealed .sc-question {height: 12vh;}
.sc-revealed .sc-question + p {display: none;}
.sc-costs b {font-size: 3rem;} .sc-costs i {height: 6vh;}
.sc-costs .sc-lightness {display: none;}
.sc-class .sc-question {height: 14vh;}
.sc-tally i {height: 2.4rem;}
.sc-tally {grid-template-columns: minmax(7rem, max-content) 1fr 8rem max-content;}
@media (max-width: 640px) {.sc-question, .sc-class .sc-question {height: 8rem;}}
</style>
"""
"""For a projector: at 900 px of height all of a state lies within the screen, and what
is read from the back row has 24 px and more."""


def choices_style(undercoats: Shelf, prefix: str) -> str:
    """Make each choice's button a swatch of its undercoat.

    Parameters
    ----------
    undercoats : tuple of Undercoat
        The choices.
    prefix : str
        What the keys of the buttons start with; their places follow.

    Returns
    -------
    str
    """
    swatches = shown([each.lab for each in undercoats])
    rules = "".join(
        f".st-key-{prefix}{place} button, .st-key-{prefix}{place} button:hover, "
        f".st-key-{prefix}{place} button:active {{background: {swatch.hex}; "
        f"color: {swatch.letters}; min-height: 7rem; min-width: 8.5rem; "
        "border: 2px solid #8a8a8a;}"
        f".st-key-{prefix}{place} button p {{font-weight: 700; font-size: 1.05rem;}}"
        for place, swatch in enumerate(swatches)
    )
    return f"<style>{rules}</style>"


def question_html(question: ExerciseColour, name: str) -> str:
    """The colour that is asked for.

    Parameters
    ----------
    question : ExerciseColour
        The question.
    name : str
        What it is called in this set.

    Returns
    -------
    str
    """
    (swatch,) = shown([question.lab])
    lightness, a, b = (round(value, 0) + 0.0 for value in question.lab)
    words = (
        f"{name.capitalize()}, L* {lightness:.0f}, "
        f"a* {a:.0f}, b* {b:.0f}"
        f"{'*' * swatch.outside}"
    )
    return (
        f'<div class="sc-question" role="img" data-question="colour" '
        f'aria-label="{escape(words)}" style="background:{swatch.hex}"></div>'
        f"<p>{escape(words)}</p>"
    )


def costs_html(question: ExerciseColour, undercoats: Shelf, choice: int | None) -> str:
    """What each choice costs.

    Parameters
    ----------
    question : ExerciseColour
        The question.
    undercoats : tuple of Undercoat
        The choices.
    choice : int or None
        The one taken; None where no single one was.

    Returns
    -------
    str
    """
    swatches = shown([each.lab for each in undercoats])
    cells = []
    for place, (each, swatch) in enumerate(zip(undercoats, swatches, strict=True)):
        coats = question.coats[place]
        marks = ["✓ fewest coats"] * (place in question.best)
        marks += ["your choice"] * (place == choice)
        marks += ["closest in lightness"] * (place == question.lightness_choice)
        kind = ' class="sc-best"' if place in question.best else ""
        number = number_words(coats, question.cap)
        cells.append(
            f'<div{kind}><i style="background:{swatch.hex}"></i><b>{escape(number)}</b>'
            f"{'coat' if coats == 1 else 'coats'}<br><strong>{escape(each.name)}"
            '</strong><br><span class="sc-lightness">'
            f"L* {each.lightness:.1f}<br></span>"
            f"{'<br>'.join(marks)}</div>"
        )
    return f'<div class="sc-costs">{"".join(cells)}</div>'


def score_html(score: Score) -> str:
    """The score so far.

    Parameters
    ----------
    score : Score
        The score.

    Returns
    -------
    str
    """
    return (
        f'<div class="sc-score" data-score="{score.points}" role="status">'
        f"{points_words(score)}</div>"
    )


def result_html(exercise: Exercise, answers: tuple[int, ...]) -> str:
    """All questions with what was chosen and what it cost.

    Parameters
    ----------
    exercise : Exercise
        The questions.
    answers : tuple of int
        What was chosen.

    Returns
    -------
    str
    """
    swatches = shown([each.lab for each in exercise.questions])
    rows = "".join(
        f'<tr><td><i style="display:block;width:3rem;height:1.6rem;border:1px solid '
        f'#8a8a8a;background:{swatch.hex}"></i></td>'
        f"<td>{name}</td>"
        f"<td>{escape(exercise.undercoats[choice].name)}</td>"
        f"<td>{coats_words(question.coats_more(choice))}</td>"
        f"<td>{question.points(choice)} of {POINTS}</td>"
        f"<td>{'works' if question.lightness_works else 'fails'}</td></tr>"
        for swatch, name, question, choice in zip(
            swatches, names_of(exercise), exercise.questions, answers, strict=True
        )
    )
    heads = ("Colour", "", "Chosen", "Too many", "Points", "Lightness match")
    return (
        '<div class="sc-scroll" tabindex="0" role="region" aria-label="All answers">'
        '<table class="sc-table"><thead><tr>'
        + "".join(f'<th scope="col">{each}</th>' for each in heads)
        + f"</tr></thead><tbody>{rows}</tbody></table></div>"
    )
