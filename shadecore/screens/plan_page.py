"""The plan of the job: from the pick to the printed sheet."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from functools import partial
from uuid import uuid4

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode
from shadecore.job.calendar import calendar_uid, to_icalendar, uid_after
from shadecore.job.hours import shifted
from shadecore.job.job_file import parse_job, write_job
from shadecore.job.job_link import (
    PARAMETER,
    PRODUCTS,
    from_job_query,
    from_products_query,
    to_job_query,
    to_products_query,
)
from shadecore.job.plan import Plan, timeline_from
from shadecore.job.request import CURES, MOST_PANELS, JobRequest
from shadecore.job.schedule import Timed
from shadecore.job.shop_hours import breaks_of, with_usual_breaks
from shadecore.job.weather import MARGIN_NOTE, NOT_TO_BE_SPRAYED
from shadecore.pages.blocks import Document, Text
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.html_layout import block_html, document_html
from shadecore.pages.pdf_layout import document_pdf
from shadecore.products.materials import panels
from shadecore.products.product import ProductSheet
from shadecore.products.sheet_file import demo_sheet, parse_sheet
from shadecore.question.from_state import plan_request
from shadecore.question.link import PickState, from_query
from shadecore.screens import pictures, plan_pictures, say
from shadecore.screens.pick_page import KEPT, OTHERS
from shadecore.screens.plan_coats import show_coats
from shadecore.screens.plan_hours import NIGHTS, USUAL_HOURS, ask_hours
from shadecore.telling.basis import CAUTION
from shadecore.telling.job_words import step_words, voc_words
from shadecore.telling.names import brief
from shadecore.units import UNITS, Quantity

_JOB = "job_request"
_LENGTH = "job_length"
"""How long the job took as it was planned last."""
_PRODUCTS = "products_text"
"""TOML of the product sheet of the painter's own."""
_LEFT = "products_left"
"""Upload of a product sheet that was laid aside."""
_TIMER_SECONDS = 5
_UNIT_NAMES = {"metric": "Metric", "us": "US"}
_PERCENT = Quantity("%", 100.0)


def page() -> None:
    """Run the page from top to bottom."""
    st.html(plan_pictures.STYLE)
    st.title("Plan the job", anchor=False)
    _start()
    # What to do next stands above the form but needs it, so it gets its place first.
    top = st.container()
    _ask_file()
    products = _ask_products()
    job = _ask_job(st.session_state[_JOB])
    _keep(job)
    with top:
        try:
            plan = plan_request(job, products)
        except ShadecoreError as error:
            say.error(error)
            if job.done:
                st.button("Take the last step back", on_click=_take_back)
            return
        st.session_state[_LENGTH] = plan.timeline[-1].end - plan.timeline[0].start
        sheet = booth_sheet(plan)
        _show_stops(plan)
        if job.sprayed:
            # Whoever holds the gun sees the timer without scrolling.
            _ask_coats(plan)
        st.html(pictures.hero_html(plan.answer) + plan_pictures.coats_html(plan))
        _show_last(plan)
        _show_clock(plan)
        _ask_done(plan)
    # The step that is coming says above what it is for.
    _show_sheet(sheet.core)
    _show_limits(plan)
    _offer(plan, sheet)
    st.info(CAUTION)


def _start() -> None:
    """Begin with the session's job, the link's, or a new one for the pick's colour."""
    kept = st.session_state.get(KEPT)
    if _JOB not in st.session_state:
        st.session_state[_JOB] = _linked() or _new_job(from_query(st.query_params))
    if kept is not None:
        # The other page may have changed the pick since this one kept it.
        st.session_state[_JOB] = replace(st.session_state[_JOB], pick=kept)


def _linked() -> JobRequest | None:
    try:
        return from_job_query(_query())
    except ShadecoreError as error:
        say.error(error)
        return None


def _query() -> dict[str, str]:
    """The link's parameters, and those that the pick's page kept for this one."""
    kept: dict[str, str] = st.session_state.get(OTHERS, {})
    return {**kept, **st.query_params.to_dict()}


def _new_job(pick: PickState) -> JobRequest:
    """A job for tomorrow when the shop opens."""
    tomorrow = date.today() + timedelta(days=1)  # noqa: DTZ011 - the shop's own clock
    return JobRequest(
        datetime.combine(tomorrow, USUAL_HOURS.opens),
        panels=((panels()[0].key, 1),),
        breaks=breaks_of(USUAL_HOURS, tomorrow, tomorrow + timedelta(days=NIGHTS)),
        pick=pick,
        uid=str(uuid4()),
    )


def _keep(job: JobRequest) -> None:
    """Keep the job for the next run and in the link, its pick for the other page."""
    st.session_state[_JOB] = job
    st.session_state[KEPT] = job.pick
    text = st.session_state.get(_PRODUCTS)
    query = to_job_query(job) | ({} if text is None else to_products_query(text))
    st.session_state[OTHERS] = {
        name: value for name, value in query.items() if name in (PARAMETER, PRODUCTS)
    }
    if st.query_params.to_dict() != query:
        st.query_params.from_dict(query)


def _ask_file() -> None:
    upload = st.file_uploader("Open a job file", type=["toml"], key="job_file")
    if upload is None or st.session_state.get("job_seen") == upload.file_id:
        return
    st.session_state["job_seen"] = upload.file_id
    try:
        job = parse_job(decode(upload.getvalue(), upload.name), upload.name)
    except ShadecoreError as error:
        say.error(error)
        return
    _keep(job)
    st.session_state["job_edition"] = st.session_state.get("job_edition", 0) + 1


def _ask_products() -> ProductSheet:
    upload = st.file_uploader(
        "Product sheet (TOML); an invented line unless given",
        type=["toml"],
        key="product_file",
    )
    sheet, text = _own_products() or (demo_sheet(), None)
    if upload is not None and upload.file_id != st.session_state.get(_LEFT):
        try:
            text = decode(upload.getvalue(), upload.name)
            sheet = parse_sheet(text, upload.name)
        except ShadecoreError as error:
            _, text = _own_products() or (None, None)
            used = "The invented line" if text is None else "The sheet before it"
            say.error(f"{error} {used} is used meanwhile.")
    st.session_state[_PRODUCTS] = text
    if text is not None:
        kept = (
            "This page's link holds it, so a reload keeps it."
            if to_products_query(text)
            else "It is too long for this page's link: after a reload, upload it again."
        )
        st.caption(f"Planned from your sheet. {kept}")
        st.button(
            "Plan from the invented line again",
            on_click=_leave_products,
            args=(None if upload is None else upload.file_id,),
        )
    return sheet


def _own_products() -> tuple[ProductSheet, str] | None:
    """The painter's own sheet, of this session or of the link, and its TOML."""
    if _PRODUCTS in st.session_state:
        text = st.session_state[_PRODUCTS]
        return None if text is None else (parse_sheet(text, "Product sheet"), text)
    try:
        return from_products_query(_query())
    except ShadecoreError as error:
        say.error(f"{error} The invented line is used meanwhile.")
        return None


def _leave_products(upload: str | None) -> None:
    st.session_state[_PRODUCTS] = None
    st.session_state[_LEFT] = upload


def _ask_job(job: JobRequest) -> JobRequest:
    """Ask for what the planner needs; the rest of the job stays as it is."""
    edition = st.session_state.get("job_edition", 0)

    def key(name: str) -> str:
        return f"plan_{name}_{edition}"

    left, middle, right = st.columns(3)
    with left:
        name = st.text_input("Job", job.name, key=key("name")) or "Job"
        start = _ask_start(job.start, key)
        cure = st.radio(
            "Clear coat cures by",
            CURES,
            CURES.index(job.cure),
            horizontal=True,
            key=key("cure"),
        )
        units = st.radio(
            "Units",
            tuple(UNITS),
            tuple(UNITS).index(job.pick.units),
            format_func=_UNIT_NAMES.__getitem__,
            horizontal=True,
            key=key("units"),
        )
    shop = UNITS[units]
    with middle:
        chosen = _ask_panels(job.panels, key)
        area = _ask_number(
            "Other area", shop.area, job.area_m2, (0.0, 1000.0), key("area")
        )
        bare = st.toggle("Bare metal", job.bare_metal, key=key("bare"))
        filler = st.toggle("Filler", job.filler, key=key("filler"))
        flattest = st.toggle("Sanded level and polished", job.flattest, key=key("flat"))
    with right:
        show = shop.temperature
        air = _ask_number("Air", show, job.air_c, (-20.0, 60.0), key("air"))
        panel = _ask_number("Panel", show, job.panel_c, (-20.0, 90.0), key("panel"))
        humidity = _ask_number(
            "Humidity", _PERCENT, job.humidity, (0.0, 1.0), key("humidity")
        )
    moved = start.date() - job.start.date()
    job = replace(
        job,
        uid=uid_after(
            job, name, start, st.session_state.get(_LENGTH, timedelta()), str(uuid4())
        ),
        start=start,
        breaks=tuple(shifted(each, moved) for each in job.breaks),
    )
    with st.expander("Shop hours and losses"):
        breaks = ask_hours(job, key)
        loss = _ask_number(
            "Left in cup and gun at each product",
            shop.volume,
            job.cup_loss_l,
            (0.0, 5.0),
            key("loss"),
        )
    return replace(
        job,
        name=name,
        breaks=breaks,
        cup_loss_l=loss,
        cure=cure,
        pick=replace(job.pick, units=units),
        panels=chosen,
        area_m2=area,
        bare_metal=bare,
        filler=filler,
        flattest=flattest,
        air_c=air,
        panel_c=panel,
        humidity=humidity,
    )


def _ask_start(start: datetime, key: Callable[[str], str]) -> datetime:
    day = st.date_input("Starts on", start.date(), key=key("day"))
    clock = st.time_input("at", start.time(), key=key("clock"))
    asked = datetime.combine(day, clock)
    # The field has no seconds; a file may.
    same = asked.replace(second=0) == start.replace(second=0, microsecond=0)
    return start if same else asked


def _ask_panels(
    panels_of_job: tuple[tuple[str, int], ...], key: Callable[[str], str]
) -> tuple[tuple[str, int], ...]:
    """Ask which panels and how many of each."""
    counts = dict(panels_of_job)
    names = dict.fromkeys(counts, "") | {each.key: each.name for each in panels()}
    chosen = st.multiselect(
        "Panels",
        names,
        list(counts),
        format_func=lambda panel: names[panel] or panel,
        key=key("panels"),
    )
    return tuple(
        (
            panel,
            st.number_input(
                f"{names[panel] or panel}: how many",
                0,
                MOST_PANELS,
                counts.get(panel, 1),
                key=key(f"count_{panel}"),
            ),
        )
        for panel in chosen
    )


def _ask_number(
    label: str, unit: Quantity, metric: float, ends: tuple[float, float], key: str
) -> float:
    """Ask for a quantity in the shop's units; what is not touched stays as it was."""
    low, high = (unit.number(end) for end in ends)
    shown = round(unit.number(metric), 1)
    value = st.number_input(
        f"{label} ({unit.unit})",
        low,
        high,
        shown,
        step=1.0,
        format="%.1f",
        key=f"{key}_{unit.unit}",
    )
    if value == shown:
        return metric
    return min(max(unit.metric(value), ends[0]), ends[1])


def _show_stops(plan: Plan) -> None:
    """Say first that the weather bars spraying, then which grits leave a scratch."""
    if plan.barred:
        reasons = "\n".join(f"- {stop}" for stop in plan.weather.stops)
        st.error(f"## {NOT_TO_BE_SPRAYED}\n{say.plain(reasons)}")
    if any(each.step.grits and not each.done for each in plan.timeline):
        for scratch in plan.scratches:
            say.warning(scratch)


def _show_last(plan: Plan) -> None:
    """Say at once what was done too early or too late."""
    done = [each for each in plan.timeline if each.done]
    if done and done[-1].broken:
        say.warning(done[-1].broken)


@st.fragment(run_every=_TIMER_SECONDS)
def _show_clock(plan: Plan) -> None:
    """Count down to the next step and to the end of its window."""
    now = datetime.now()  # noqa: DTZ005 - the shop's own clock
    coming = next((each for each in plan.timeline if not each.done), None)
    if coming is None:
        st.success("Every step is done.")
        return
    under_way = bool(plan.request.sprayed)
    st.metric(
        say.plain(coming.step.title),
        "under way" if under_way else _until(coming.start, now),
    )
    say.words(step_words(coming.step, UNITS[plan.request.pick.units]))
    before = _before(plan.timeline, coming)
    if before is not None and before.next_until is not None:
        if before.next_until >= now:
            st.caption(f"Window closes {_until(before.next_until, now)}.")
            return
        late = next(each for each in timeline_from(plan, now) if not each.done)
        st.error(
            f"Window closed {_until(before.next_until, now)}. {say.plain(late.broken)}"
        )


def _before(timeline: tuple[Timed, ...], one: Timed) -> Timed | None:
    place = timeline.index(one)
    return timeline[place - 1] if place else None


def _until(moment: datetime, now: datetime) -> str:
    """How far a moment is off, in words that a glance takes in."""
    minutes = round((moment - now).total_seconds() / 60)
    hours, rest = divmod(abs(minutes), 60)
    days, hours = divmod(hours, 24)
    far = f"{days} d {hours} h" if days else f"{hours} h {rest:02d} min"
    return f"in {far}" if minutes >= 0 else f"{far} ago"


def _ask_coats(plan: Plan) -> None:
    coming = next((each for each in plan.timeline if not each.done), None)
    if coming is not None:
        show_coats(
            plan,
            coming,
            sprayed=_coat_now,
            done=partial(_done_now, coming.step.key),
            back=_coat_back,
        )


def _ask_done(plan: Plan) -> None:
    """Let the painter say that a step is done now; the rest is planned again."""
    coming = next((each for each in plan.timeline if not each.done), None)
    if not plan.request.sprayed:
        _ask_coats(plan)
    columns = st.columns(2)
    if coming is not None:
        columns[0].button(
            f"Done now: {say.plain(coming.step.title)}",
            on_click=_done_now,
            args=(coming.step.key,),
        )
    if plan.request.done:
        columns[1].button("Take the last step back", on_click=_take_back)


def _done_now(key: str) -> None:
    job: JobRequest = st.session_state[_JOB]
    now = datetime.now().replace(second=0, microsecond=0)  # noqa: DTZ005 - shop's clock
    last = now.date() + timedelta(days=NIGHTS)
    breaks = with_usual_breaks(job.breaks, now.date(), last)
    st.session_state[_JOB] = replace(
        job, done=(*job.done, (key, now)), sprayed=(), breaks=breaks
    )


def _take_back() -> None:
    job: JobRequest = st.session_state[_JOB]
    st.session_state[_JOB] = replace(job, done=job.done[:-1], sprayed=())


def _coat_now() -> None:
    job: JobRequest = st.session_state[_JOB]
    now = datetime.now().replace(microsecond=0)  # noqa: DTZ005 - the shop's own clock
    st.session_state[_JOB] = replace(job, sprayed=(*job.sprayed, now))


def _coat_back() -> None:
    job: JobRequest = st.session_state[_JOB]
    st.session_state[_JOB] = replace(job, sprayed=job.sprayed[:-1])


def _show_sheet(sheet: Document) -> None:
    for section in sheet.sections:
        st.subheader(section.title, anchor=False)
        for block in section.blocks:
            if isinstance(block, Text):
                say.words(block.text)
            else:
                st.html(block_html(block))


def _show_limits(plan: Plan) -> None:
    """Say what the weather and the VOC were held against, and how well it is known."""
    with st.expander("The limits in full"):
        say.words(MARGIN_NOTE)
        for material in plan.materials:
            for answer in material.voc:
                say.words(f"{brief(material.product.name)}: {voc_words(answer)}")


def _calendar(plan: Plan) -> bytes:
    return to_icalendar(
        plan.timeline,
        calendar_uid(plan.request),
        datetime.now(UTC),
        plan.weather.stops,
    ).encode()


def _offer(plan: Plan, sheet: Document) -> None:
    """Offer the sheet, the calendar and the job file."""
    job = plan.request
    # Laid out when they are asked for: the page answers sooner without.
    files: tuple[tuple[str, Callable[[], bytes], str, str], ...] = (
        (
            "Sheet (PDF)",
            lambda: document_pdf(sheet, job.pick.units),
            "sheet.pdf",
            "application/pdf",
        ),
        (
            "Sheet (HTML)",
            lambda: document_html(sheet).encode(),
            "sheet.html",
            "text/html",
        ),
        ("Calendar", lambda: _calendar(plan), "job.ics", "text/calendar"),
        ("Job file", lambda: write_job(job).encode(), "job.toml", "application/toml"),
    )
    for column, (label, content, name, kind) in zip(
        st.columns(len(files)), files, strict=True
    ):
        column.download_button(label, content, name, kind, on_click="ignore")
