"""What a plan says beyond its times: the painter's choice, repair, colours, substrates.

For the page, the terminal and the printed sheet alike: a title and sentences to each.
"""

from collections.abc import Iterator
from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.choice import Choice, old_finish
from shadecore.job.kinds import PANELS, RE_CLEAR
from shadecore.job.left_out import (
    ADHESION,
    MORE_COATS,
    NEVER_HIDES,
    SANDED_THROUGH,
    UNKNOWN_PAINT,
    LeftOut,
)
from shadecore.job.plan import Plan
from shadecore.job.sides import piece_names, pieces, with_sides
from shadecore.job.spot import SpotRepair
from shadecore.job.step_places import once
from shadecore.job.step_sets import step_sets
from shadecore.job.substrates import Substrate
from shadecore.job.trade_steps import trade_steps
from shadecore.job.two_tone import TwoTone
from shadecore.job.under_paint import conflicts, supposed_substrates, told_substrates
from shadecore.telling.counts import coats_words, count_words
from shadecore.telling.job_words import grit_words, step_title, when_words
from shadecore.telling.names import sealer_words
from shadecore.telling.numbers import chance_words, listed
from shadecore.telling.seen import left_out_words
from shadecore.telling.set_up_words import change_name
from shadecore.telling.under_words import under_words
from shadecore.units import UNITS, Units, percent

Note = tuple[str, tuple[str, ...]]
PUT_OFF: Final = "Put off to keep the windows"
NOWHERE: Final = "Steps that are not planned"
_LEFT_OUT: Final = "May the sealer be left out?"
_SUBSTRATES: Final = "What the panels are made of"
_ASKED: Final = "To be asked of the data sheets"
_KIND: Final = "Kind of job"
_CONFLICTS: Final = "What must not go on"
READ_ONCE: Final = frozenset({_KIND, _ASKED, _LEFT_OUT, _CONFLICTS, _SUBSTRATES})
"""Titles of what is read before the job and not needed at the booth."""

AGAINST: Final = {
    ADHESION: "Without a sealer the colour holds only on old paint that is sound, "
    "cleaned and sanded dull.",
    NEVER_HIDES: "Over the old finish the colour does not hide in as many coats as are "
    "counted.",
    MORE_COATS: "Every coat more is more film, more time and more solvent in it.",
    SANDED_THROUGH: "Where filler, primer or metal lies bare, several colours lie side "
    "by side: a sealer makes them one.",
    UNKNOWN_PAINT: "Old paint of unknown kind may lift under solvent: test it with a "
    "wet cloth first; a sealer closes it in.",
}
"""What speaks against leaving the sealer out."""
_SWAP: Final = {
    "coats": "The second colour takes more coats than the first: spray it first, and "
    "the edge at the line stays thin.",
    "lightness": "The second colour is the lighter one: spray it first, and the darker "
    "one covers its edge.",
}


def plan_notes(plan: Plan) -> tuple[Note, ...]:
    """What a plan says beyond its times.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of (str, tuple of str)
        A title and sentences to each; none for a usual job.
    """
    units = UNITS[plan.request.question.units]
    picked = plan.picked
    found: list[tuple[str, Iterator[str]]] = [(_KIND, _kind(plan))]
    if picked.choice is not None:
        found.append(("Sealer and coats", _choice(plan, picked.choice, units)))
    if picked.spot is not None:
        found.append(("How the repair fades out", _spot(plan, picked.spot, units)))
    if picked.two_tone is not None:
        found.append(("Two colours", _two_tone(plan, picked.two_tone)))
    found.append((PUT_OFF, _put_off(plan)))
    found.append((NOWHERE, _nowhere(plan)))
    if picked.left_out is not None:
        found.append((_LEFT_OUT, _left_out(picked.left_out)))
    found.append((_ASKED, _asked(plan, units)))
    found.append((_CONFLICTS, _conflicts(plan)))
    found.append((_SUBSTRATES, _substrates(plan)))
    found.append(("What was seen of the colour", _records(plan)))
    return tuple((title, told) for title, each in found if (told := tuple(each)))


def _kind(plan: Plan) -> Iterator[str]:
    request = plan.request
    if request.kind != PANELS:
        found = step_sets()[request.kind]
        yield f"{found.name}. {found.what}"
    if plan.picked.choice is None:
        yield "No colour is sprayed, so none is picked."


def _choice(plan: Plan, choice: Choice, units: Units) -> Iterator[str]:
    if choice.sealed and choice.undercoat.parts:
        yield _mixed(plan, units)
    if (
        not choice.sealed
        and plan.request.old_finish
        and choice.undercoat != old_finish(plan.request)
    ):
        yield (
            "The old finish does not lie on top: other coats are sprayed over it "
            "before the colour. Drop those steps where it is to stay."
        )
    if not choice.own:
        return
    best = choice.recommended
    instead = "" if best.coats is None else f", {coats_words(best.coats)}"
    taken = sealer_words(choice.undercoat)
    if not choice.sealed:
        taken = f"no sealer, over {under_words(choice)},"
    yield (
        f"Planned with {taken} and {coats_words(choice.coats)} of colour; recommended "
        f"is {sealer_words(best.undercoat)}{instead}."
    )
    more_l, more_cost = plan.own_choice
    if more_l is not None and more_cost is not None and (more_l or more_cost):
        side = "less" if more_l < 0.0 else "more"
        cans = "less" if more_cost < 0.0 else "more"
        cost = f"{abs(more_cost):.2f} {plan.sheet.currency} {cans}"
        yield (
            f"That takes {units.volume.show(abs(more_l))} {side} of colour; the cans "
            f"cost {cost if round(more_cost, 2) else 'as much'}."
        )
    yield (
        f"After {coats_words(choice.coats)} a difference of {choice.difference:.1f} is "
        f"left ({plan.request.question.tolerance:g} counts as hidden); the chance that "
        f"it hides is {chance_words(choice.chance)}."
    )


def _mixed(plan: Plan, units: Units) -> str:
    """How much of each can goes into a sealer that is mixed of two."""
    names = {name for each in _choices(plan) for name, _ in each.undercoat.parts}
    amounts = " + ".join(
        f"{units.volume.show(portion.volume_l)} of {brief(portion.component.name)}"
        for material in plan.materials
        if material.product.kind == "sealer"
        for portion in material.portions
        if portion.component.name in names
    )
    return f"The sealer is mixed of two cans: {amounts}."


def _choices(plan: Plan) -> tuple[Choice, ...]:
    two = plan.picked.two_tone
    second = () if two is None else (two.second,)
    return tuple(e for e in (plan.picked.choice, *second) if e is not None)


def _spot(plan: Plan, spot: SpotRepair, units: Units) -> Iterator[str]:
    show = units.distance.show
    if spot.whole_m2 > plan.area_m2:
        what = "spot" if spot.spot_m2 > plan.area_m2 else "colour"
        beside = units.area.show(spot.whole_m2 - plan.area_m2)
        yield (
            f"The {what} does not end in these panels: it fades out over "
            f"{units.area.show(spot.whole_m2)}, of which {beside} falls on the panel "
            "beside. What is mixed is enough for all of it. Add the panel beside, so "
            "that clear covers it to its edge."
        )
    sealer = [each.reach_cm for each in spot.fades if each.kind == "sealer"]
    reaches = [each.reach_cm for each in spot.fades if each.kind == "base_coat"]
    if sealer:
        yield f"The sealer ends {show(sealer[0])} from the spot's edge."
    yield (
        f"The coats of colour reach to {listed([show(each) for each in reaches])}, "
        "each past the last. Clear covers the whole panel."
    )
    mids = [show(each.reach_cm) for each in spot.fades if each.kind == "mid_coat"]
    if mids:
        yield f"The coats over the ground reach to {listed(mids)}."
    old = "" if spot.told else " (taken to have the colour itself)"
    if spot.worst is not None:
        yield (
            f"Sealer and old finish{old} lie under one colour: they look alike after "
            f"{count_words(spot.worst.count)}, so the spot gets "
            f"{coats_words(spot.coats)}."
        )
    for each in spot.zones:
        under = "sealer" if each.sealed else "old finish"
        yield (
            f"To {show(each.end_cm)}: {coats_words(each.coats)} over {under}, "
            f"a difference of {each.difference:.1f} from the full colour."
        )


def _two_tone(plan: Plan, two: TwoTone) -> Iterator[str]:
    second = two.second
    under = (
        "the same sealer"
        if two.one_sealer
        else f"{sealer_words(second.undercoat)} of its own"
    )
    yield (
        f"Second colour: {coats_words(second.coats)} over {under}; it covers "
        f"{percent(plan.request.second_share)} of the area."
    )
    if two.swap:
        yield _SWAP[two.swap]
    source = "the sheet" if two.tape_told else "common practice"
    yield (
        f"Tape may lie on the first colour after {two.tape_min:g} min, by {source}; "
        "test it on a masked edge."
    )
    until, late = plan.first_colour
    if until is None:
        return
    if late:
        yield (
            f"The first colour takes clear until {when_words(until)}, and clear comes "
            "later, which no later start mends: sand it lightly and give it one more "
            "coat."
        )
    else:
        yield f"The first colour takes clear until {when_words(until)}."


def _put_off(plan: Plan) -> Iterator[str]:
    for each in plan.timeline:
        if each.put_off:
            yield (
                f"{brief(each.step.title)} waits until {when_words(each.start)}: done "
                "before the break, it would lie too long before its next coat."
            )


def _nowhere(plan: Plan) -> Iterator[str]:
    """Own steps for panels that the job does not have."""
    there, names = pieces(plan.request), piece_names()
    for each in plan.request.details.changes:
        if each.drop or not each.panels or with_sides(each.panels, there):
            continue
        panels = listed([names[panel].lower() for panel in each.panels])
        yield (
            f"{change_name(each)} is for {panels}, which the job does not have: add "
            "the panel, or change the step."
        )


def _left_out(found: LeftOut) -> Iterator[str]:
    yield (
        f"Over the old finish: {count_words(found.over_old.count)}. Over "
        f"{sealer_words(found.sealed.undercoat)}: {count_words(found.sealed.count)}."
    )
    for reason in found.against:
        yield AGAINST[reason]


def _records(plan: Plan) -> Iterator[str]:
    found = plan.answer
    if plan.picked.choice is not None and found.left_out:
        yield left_out_words(len(found.rests_on), found.left_out)


def _asked(plan: Plan, units: Units) -> Iterator[str]:
    """Products that a step needs and the product sheet does not have."""
    for each in plan.timeline:
        step = each.step
        trade = trade_steps().get(once(step.key))
        if trade is None or not trade.kind or step.product is not None:
            continue
        area = units.area.show(step.share * plan.area_m2)
        yield (
            f"{trade.title}: this product sheet has no product for it. Ask for "
            f"its window, the amount on {area} and its safety data sheet; the times "
            "here are rules of thumb."
        )


def _conflicts(plan: Plan) -> Iterator[str]:
    names = piece_names()
    panels_of: dict[str, list[str]] = {}
    for each in conflicts(plan.request):
        title = step_title(each.step)
        panel = f"{names[each.panel]} ({each.substrate.name.lower()})"
        if each.left_out:
            said = f"{title}: not planned on {{}}, which does not bear it."
        elif each.beside:
            said = f"{title}: on {{}} only where metal is, never on the rest."
        else:
            said = f"{title}: on {{}} only with a product that is made for it."
        panels_of.setdefault(said, []).append(panel)
    for said, where in panels_of.items():
        yield said.format(listed(where))


def _substrates(plan: Plan) -> Iterator[str]:
    names = piece_names()
    re_clear = plan.request.kind == RE_CLEAR
    for panel, (supposed,) in () if re_clear else supposed_substrates(plan.request):
        yield (
            f"{names[panel]}: taken to be {supposed.name.lower()}, because nobody said "
            "what it is made of; say it, and the plan follows."
        )
    told: dict[Substrate, list[str]] = {}
    for panel, found in told_substrates(plan.request):
        for each in found:
            told.setdefault(each, []).append(names[panel])
    for each, where in told.items():
        grits = f" Grits before the surfacer: {grit_words(each.grits)}."
        said = " ".join((*each.first, *each.never))
        if re_clear:
            grits, said = "", " ".join(each.never)
        asks = " ".join(each.ask)
        yield (
            f"{each.name} ({', '.join(where)}): {said}{grits} Ask the data sheets: "
            f"{asks}"
        )
