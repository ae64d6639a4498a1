"""``book``: what the shop's book holds, listed, changed, carried in and out."""

import argparse
import json
import sys
from collections.abc import Callable, Sequence
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any, Final

from shadecore.book.bin_contents import goes_along
from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.kept import Kept
from shadecore.book.kinds import folded, kind_of
from shadecore.book.names import SHORT_UID
from shadecore.commands.ask_book import book_file, opened, rehearsed
from shadecore.commands.ask_condition import add_told, told_of
from shadecore.commands.ask_estimate import add_rates, rates_of
from shadecore.commands.asks import report_bad
from shadecore.commands.book_add import ADDING
from shadecore.commands.book_shown import (
    RECORDS,
    Shown,
    changes_page,
    found_page,
    list_page,
    plan_page,
    problems_page,
    said_page,
    thing_page,
    thing_record,
)
from shadecore.commands.status import ALL_WELL, SOME_ROWS_BAD
from shadecore.errors import SettingError
from shadecore.formats.echo import shown
from shadecore.pages.text_layout import document_text
from shadecore.telling.estimate_words import kept_rates_words
from shadecore.telling.numbers import capital

_NAMED: Final = tuple(kind for kind in RECORDS if kind != "records")
_IMPORTED: Final = ("colours", "jobs", "shelves", "records", "steps", "sheets")
_EXPORTED: Final = (*_IMPORTED, "photos")
_USED: Final = ("shelves", "lines", "guns")
_MOST_SAID: Final = 200
"""Characters of a change in the list of changes."""
_Run = Callable[[argparse.Namespace], int]


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "book",
        help="the shop's book: colours, jobs, shelves and what was seen",
        description="Lists and changes what the shop's book holds, and carries it in "
        "and out.",
    )
    verbs = parser.add_subparsers(required=True, metavar="VERB")
    _look(verbs)
    _write(verbs)
    _shop(verbs)
    _carry(verbs)
    _whole(verbs)


def _verb(verbs: Any, name: str, about: str, run: _Run) -> argparse.ArgumentParser:  # noqa: ANN401 - argparse names no class
    parser: argparse.ArgumentParser = verbs.add_parser(
        name, help=about, description=f"{capital(about)}."
    )
    parser.add_argument(
        "--book", metavar="FILE", help="another book than the shop's own"
    )
    parser.add_argument("--json", action="store_true", help="answer for programs")
    parser.set_defaults(run=run)
    return parser


def _look(verbs: Any) -> None:  # noqa: ANN401
    parser = _verb(verbs, "list", "things of a kind, those changed last first", _list)
    parser.add_argument("kind", choices=(*RECORDS, "bin"))
    parser.add_argument("--limit", type=int, metavar="N", help="all unless given")
    parser = _verb(verbs, "show", "one thing with all that is known of it", _show)
    parser.add_argument("kind", choices=RECORDS)
    parser.add_argument("which", metavar="WHICH", help="its name, code or uid")
    parser = _verb(verbs, "search", "colours and jobs that hold all words", _search)
    parser.add_argument("words", nargs="+", metavar="WORD")


def _write(verbs: Any) -> None:  # noqa: ANN401
    adding = verbs.add_parser("add", help="keep a thing", description="Keeps a thing.")
    kinds = adding.add_subparsers(required=True, metavar="KIND")
    for kind, how in ADDING.items():
        parser = _verb(kinds, kind, f"one of the {kind}", _add)
        how.words(parser)
        parser.set_defaults(kind=None, thing=kind)
    parser = _verb(verbs, "rename", "give a thing another name", _rename)
    parser.add_argument("kind", choices=_NAMED)
    parser.add_argument("which", metavar="WHICH", help="its name, code or uid")
    parser.add_argument("name", metavar="NAME", help="what it becomes")
    parser = _verb(verbs, "remove", "put things into the bin", _remove)
    parser.add_argument("kind", choices=RECORDS)
    parser.add_argument("which", nargs="+", metavar="WHICH", help="name, code or uid")
    parser = _verb(verbs, "put-back", "take things out of the bin", _put_back)
    parser.add_argument("kind", choices=RECORDS)
    parser.add_argument("which", nargs="+", metavar="WHICH", help="name, code or uid")
    _verb(verbs, "undo", "take the last change back; again, the one before it", _undo)
    parser = _verb(verbs, "changes", "the last changes that can be undone", _changes)
    parser.add_argument("--limit", type=int, default=20, metavar="N", help="20")
    parser = _verb(verbs, "use", "which shelf, paint line or gun is in use", _use)
    parser.add_argument("kind", choices=_USED)
    parser.add_argument("which", metavar="WHICH", help="its name or uid; '' for none")
    parser = _verb(
        verbs, "forget", "learn anew of a paint line or a gun from now on", _forget
    )
    parser.add_argument("kind", choices=("lines", "guns"))
    parser.add_argument("which", metavar="WHICH", help="its name or uid")
    parser.add_argument(
        "--again", action="store_true", help="let its earlier records count again"
    )
    parser = _verb(verbs, "empty-bin", "remove for good what lies in the bin", _empty)
    parser.add_argument("--yes", action="store_true", help="do it; else it is shown")


def _shop(verbs: Any) -> None:  # noqa: ANN401
    parser = _verb(
        verbs, "rates", "what the shop's estimates begin with, shown or kept", _rates
    )
    add_rates(parser)


def _carry(verbs: Any) -> None:  # noqa: ANN401
    parser = _verb(verbs, "export", "write things into a file", _export)
    parser.add_argument("kind", choices=_EXPORTED)
    parser.add_argument(
        "which", nargs="?", metavar="WHICH", help="one of them; all colours or records"
    )
    parser.add_argument(
        "--out",
        metavar="FILE",
        required=True,
        help="colours as .csv, .txt (CGATS) or .cxf; a job as .toml, or its times as "
        ".csv; a shelf or records as .csv; a set of steps or a product sheet as .toml; "
        "a photo as .jpg",
    )
    parser = _verb(verbs, "import", "take things from a file", _import)
    parser.add_argument("kind", choices=_IMPORTED)
    parser.add_argument(
        "file",
        metavar="FILE",
        help="colours as .csv, CGATS or CxF3; a job, a set of steps or a product sheet "
        "as .toml; a shelf or records as .csv",
    )
    parser.add_argument("--yes", action="store_true", help="do it; else it is shown")
    add_told(parser)


def _whole(verbs: Any) -> None:  # noqa: ANN401
    parser = _verb(verbs, "backup", "write the whole book into one file", _backup)
    parser.add_argument("file", metavar="FILE")
    parser = _verb(
        verbs, "restore", "put a backup in the place of the whole book", _restore
    )
    parser.add_argument("file", metavar="FILE")
    _verb(verbs, "check", "look whether the book is whole", _check)


def _say(options: argparse.Namespace, shown: Shown, status: int = ALL_WELL) -> int:
    if options.json:
        sys.stdout.write(json.dumps(shown.record, indent=2) + "\n")
    else:
        sys.stdout.write(document_text(shown.page))
    return status


def _list(options: argparse.Namespace) -> int:
    with opened(options) as book:
        if options.kind == "bin":
            return _say(options, found_page(book.bin()[: options.limit]))
        things: Any = book.list(RECORDS[options.kind], limit=options.limit)
        return _say(options, list_page(book, options.kind, things))


def _show(options: argparse.Namespace) -> int:
    with opened(options) as book:
        kept = book.show(RECORDS[options.kind], options.which)
        return _say(options, thing_page(book, kept))


def _search(options: argparse.Namespace) -> int:
    with opened(options) as book:
        return _say(options, found_page(book.search(" ".join(options.words))))


def _add(options: argparse.Namespace) -> int:
    with rehearsed(options) as book:
        thing, bad = ADDING[options.thing].make(options, book)
    with opened(options, new=True) as book:
        kept = book.add(thing)
    name = getattr(thing, "name", "") or kept.uid
    status = report_bad(bad, getattr(options, "file", None))
    return _say(options, _done(f"Added {name!r}.", kept), status)


def _rename(options: argparse.Namespace) -> int:
    record = RECORDS[options.kind]
    with opened(options) as book:
        kept = book.rename(book.show(record, options.which), options.name)
    return _say(options, _done(f"It is called {kept.thing.name!r} now.", kept))


def _done(sentence: str, kept: Any) -> Shown:  # noqa: ANN401 - of any kind
    return Shown(said_page(sentence).page, thing_record(kept))


def _remove(options: argparse.Namespace) -> int:
    with opened(options) as book:
        record = RECORDS[options.kind]
        found = [book.show(record, each) for each in options.which]
        # A thing that was named twice is removed once.
        found = list({each.uid: each for each in found}.values())
        with book.changing(f"removed {_some_of(options, len(found))}"):
            gone = [book.remove(each) for each in found]
    said = f"Put {len(gone)} into the bin: {', '.join(options.which)}."
    return _say(options, said_page(said, removed=[each.uid for each in gone]))


def _some_of(options: argparse.Namespace, count: int) -> str:
    return f"{count} of the {options.kind}: {', '.join(options.which)}"[:_MOST_SAID]


def _put_back(options: argparse.Namespace) -> int:
    record = RECORDS[options.kind]
    with opened(options) as book:
        in_bin = [each for each in book.bin() if type(each.thing) is record]
        found = [_in_bin(in_bin, each, options.kind) for each in options.which]
        found = list({each.uid: each for each in found}.values())
        with book.changing(f"put back {_some_of(options, len(found))}"):
            back = [book.put_back(each) for each in found]
    said = f"Took {len(back)} out of the bin: {', '.join(options.which)}."
    return _say(options, said_page(said, put_back=[each.uid for each in back]))


def _in_bin(things: Sequence[Kept[Any]], which: str, kind: str) -> Kept[Any]:
    """A thing of the bin by its name, its code or the start of its uid."""
    key = folded(which)
    found = [
        each
        for each in things
        if key in {folded(getattr(each.thing, name, "")) for name in ("name", "code")}
        or (len(which) >= SHORT_UID and each.uid.startswith(which))
    ]
    if len(found) == 1:
        return found[0]
    many = "more than one" if found else "none"
    message = (
        f"Of the {kind} in the bin {many} is called {shown(which)}; look with "
        "'shadecore book list bin' and name it by its uid."
    )
    raise BookError(message)


def _undo(options: argparse.Namespace) -> int:
    with opened(options) as book:
        change = book.undo()
    return _say(options, said_page(f"Undone: {change.what}.", undone=change.what))


def _changes(options: argparse.Namespace) -> int:
    with opened(options) as book:
        return _say(options, changes_page(book.changes(max(options.limit, 0))))


def _use(options: argparse.Namespace) -> int:
    record = RECORDS[options.kind]
    with opened(options) as book:
        kept = book.show(record, options.which) if options.which else None
        book.use(record, kept)
    word = kind_of(record).word
    said = (
        f"No {word} is in use now."
        if kept is None
        else f"The {word} in use is {kept.thing.name!r} now."
    )
    uid = "" if kept is None else kept.uid
    return _say(options, said_page(said, kind=word, in_use=uid))


def _forget(options: argparse.Namespace) -> int:
    with opened(options) as book:
        kept = book.show(RECORDS[options.kind], options.which)
        kept = book.forget(kept, again=options.again)
    said = (
        f"What was seen of {kept.thing.name!r} counts again."
        if options.again
        else f"What was seen of {kept.thing.name!r} counts no more; it is learned anew "
        "from now on."
    )
    return _say(options, _done(said, kept))


def _empty(options: argparse.Namespace) -> int:
    with opened(options) as book:
        if not options.yes:
            sys.stderr.write(
                "shadecore: nothing was removed; add --yes to do it, which cannot be "
                "undone.\n"
            )
            for each in goes_along(book):
                sys.stderr.write(f"shadecore: with it goes, for good, {each}.\n")
            return _say(options, found_page(book.bin()))
        count = book.empty_bin()
    return _say(options, said_page(f"Removed {count} for good.", count=count))


def _rates(options: argparse.Namespace) -> int:
    with rehearsed(options) as book:
        kept = book.settings()
        rates = rates_of(options, kept.thing.rates)
        if rates is None:
            message = (
                "The book keeps no rates yet; say what an hour of work costs, as "
                "--hour-rate 60."
            )
            raise SettingError(message)
    if rates != kept.thing.rates:
        with opened(options, new=True) as book:
            book.change(kept, replace(kept.thing, rates=rates))
    return _say(options, said_page(kept_rates_words(rates), **asdict(rates)))


def _export(options: argparse.Namespace) -> int:
    out = Path(options.out)
    with opened(options) as book:
        book.export(RECORDS[options.kind], out, options.which)
    return _say(options, said_page(f"Wrote {out}.", file=str(out)))


def _import(options: argparse.Namespace) -> int:
    told = told_of(options)
    with rehearsed(options) as book:
        plan = book.import_file(options.file, RECORDS[options.kind], given=told)
    if options.yes and (plan.add or plan.change):
        with opened(options, new=True) as book:
            book.apply(plan)
    status = SOME_ROWS_BAD if plan.problems else ALL_WELL
    return _say(options, plan_page(plan, done=options.yes), status)


def _backup(options: argparse.Namespace) -> int:
    with opened(options) as book:
        book.backup(options.file)
    said = f"Wrote the whole book into {options.file}."
    return _say(options, said_page(said, file=options.file))


def _restore(options: argparse.Namespace) -> int:
    with rehearsed(options) as book:
        if not book_file(options).exists():
            # What is no book must not leave one behind.
            book.restore(options.file)
    with opened(options, new=True) as book:
        before = book.restore(options.file)
    said = f"Restored {options.file}; what the book held before is in {before}."
    return _say(options, said_page(said, before=str(before)))


def _check(options: argparse.Namespace) -> int:
    book: Book
    with opened(options) as book:
        problems = book.check()
    status = SOME_ROWS_BAD if problems else ALL_WELL
    return _say(options, problems_page(problems), status)
