"""Small pages of our own, for whoever may not see the real ones yet."""

import secrets
from html import escape
from typing import Final

from starlette.responses import HTMLResponse

from shadecore.serving.gate import CODE_PATH
from shadecore.telling import phone_words as words

STYLE: Final = """
:root {color-scheme: light dark;}
* {box-sizing: border-box;}
body {margin: 0 auto; max-width: 34rem; padding: 1.2rem; background: #f2f2f2;
  color: #1a1a1a; font: 1.1rem/1.4 system-ui, sans-serif;}
h1 {font-size: 1.5rem; margin: .2rem 0 .8rem;}
input, button {font: inherit; width: 100%; min-height: 56px; padding: .5rem .8rem;
  color: inherit; background: #fff; border: 2px solid #595959; border-radius: 6px;}
input {font-size: 1.6rem; letter-spacing: .12em;}
button {font-weight: 700; background: #e2e2e2; margin-top: .8rem; cursor: pointer;}
:focus-visible {outline: 4px solid currentColor; outline-offset: 2px;}
.problem {border-left: 8px solid currentColor; padding: .3rem .8rem; font-weight: 600;}
@media (prefers-color-scheme: dark) {
  body {background: #262626; color: #f0f0f0;}
  input {background: #1a1a1a; border-color: #9a9a9a;}
  button {background: #363636; border-color: #9a9a9a;}
}
"""
_MOST_WAY: Final = 4000


def plain_page(
    title: str,
    body: str,
    *,
    status: int = 200,
    script: str = "",
    style: str = "",
) -> HTMLResponse:
    """A page that runs nothing but its own script and loads nothing.

    Parameters
    ----------
    title : str
        Its title.
    body : str
        Its HTML, escaped where it has to be.
    status : int
        Of HTTP.
    script, style : str
        What the page adds.

    Returns
    -------
    starlette.responses.HTMLResponse
    """
    nonce = secrets.token_urlsafe(16)
    policy = (
        f"default-src 'none'; style-src 'nonce-{nonce}'; script-src 'nonce-{nonce}'; "
        "connect-src 'self'; img-src data:; form-action 'self'; base-uri 'none'; "
        "frame-ancestors 'none'"
    )
    run = f'<script nonce="{nonce}">{script}</script>' if script else ""
    return HTMLResponse(
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<link rel="icon" href="data:,"><title>{escape(title)}</title>'
        f'<style nonce="{nonce}">{STYLE}{style}</style></head>'
        f"<body>{body}{run}</body></html>",
        status,
        {
            "Content-Security-Policy": policy,
            # Under "no-referrer" a browser would send the form with Origin "null".
            "Referrer-Policy": "same-origin",
            "Cache-Control": "no-store",
            "X-Content-Type-Options": "nosniff",
        },
    )


def sentence_page(sentence: str, status: int) -> HTMLResponse:
    """A page that says one sentence.

    Parameters
    ----------
    sentence : str
        It.
    status : int
        Of HTTP.

    Returns
    -------
    starlette.responses.HTMLResponse
    """
    return plain_page(
        "shadecore",
        f"<main><h1>shadecore</h1><p>{escape(sentence)}</p></main>",
        status=status,
    )


def ask_page(way: str, problem: str = "", status: int = 401) -> HTMLResponse:
    """The page that asks a device for its code.

    Parameters
    ----------
    way : str
        Path and query that were asked for; the device is sent there afterwards.
    problem : str
        What was wrong with the last code.
    status : int
        Of HTTP.

    Returns
    -------
    starlette.responses.HTMLResponse
    """
    told = f'<p class="problem" role="alert">{escape(problem)}</p>' if problem else ""
    return plain_page(
        words.ASK_TITLE,
        f"<main><h1>{words.ASK_HEAD}</h1><p>{words.ASK_TEXT}</p>{told}"
        f'<form method="post" action="{CODE_PATH}">'
        f'<input type="hidden" name="way" value="{escape(safe_way(way))}">'
        f'<input name="code" aria-label="{words.ASK_TITLE}" inputmode="numeric" '
        'autocomplete="off" maxlength="20" required autofocus>'
        f"<button>{words.ASK_BUTTON}</button></form></main>",
        status=status,
    )


def safe_way(way: str) -> str:
    """A way on this server, whatever a form said.

    Parameters
    ----------
    way : str
        Path and query.

    Returns
    -------
    str
        The first page's where it could lead elsewhere.
    """
    harmless = (
        way.startswith("/")
        and not way.startswith(("//", "/\\"))
        and not way.startswith(CODE_PATH)
        and way.isprintable()
        and len(way) <= _MOST_WAY
    )
    return way if harmless else "/"
