"""Who comes in: from this computer, from elsewhere, with codes right and wrong."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.responses import PlainTextResponse
from starlette.routing import Route, WebSocketRoute
from starlette.testclient import TestClient
from starlette.websockets import WebSocket, WebSocketDisconnect

from shadecore.serving.addresses import in_order
from shadecore.serving.codes import Attempts, new_code, same_code
from shadecore.serving.gate import Sharing, Verdict, Visit, is_loopback, verdict
from shadecore.serving.keys import COOKIE, Keys, kept_keys, renewed_keys
from shadecore.serving.middleware import Gate
from shadecore.serving.plain_page import safe_way
from shadecore.serving.state import Door, Serving

HERE, PHONE, LAN = "127.0.0.1", "192.168.7.20", "192.168.7.9"
SHARED = Sharing(frozenset({LAN}), devices=True)
CLASS = Sharing(frozenset({LAN}), exercise=True)
ADDRESS = f"http://{LAN}:8501"


def visit(
    client: str, host: str, path: str = "/", origin: str | None = None, **more: str
) -> Visit:
    headers = [("host", host), *([("origin", origin)] if origin else [])]
    headers += [(name.replace("_", "-"), value) for name, value in more.items()]
    coded = [(name.encode(), value.encode()) for name, value in headers]
    return Visit.of(coded, path, client)


@pytest.mark.parametrize("host", ["127.0.0.1:8501", "localhost:8501", "[::1]:8501"])
def test_this_computer_passes_whatever_is_shared(host: str) -> None:
    for sharing in (Sharing(), SHARED, CLASS):
        assert verdict(visit(HERE, host), sharing, known=False) is Verdict.PASS
        same = visit("::1", host, origin=f"http://{host}")
        assert verdict(same, sharing, known=False) is Verdict.PASS


@pytest.mark.parametrize("host", ["evil.example", f"{LAN}:8501", "localhost.evil.org"])
def test_a_name_pointed_at_this_computer_is_not_this_computer(host: str) -> None:
    """DNS rebinding: the client is this computer, the name is somebody's own."""
    assert verdict(visit(HERE, host), Sharing(), known=False) is Verdict.CLOSED
    found = verdict(visit(HERE, "evil.example"), SHARED, known=True)
    assert found is Verdict.MISDIRECTED


@pytest.mark.parametrize(
    "header", ["x_forwarded_for", "forwarded", "x_real_ip", "via", "x_forwarded_host"]
)
def test_what_a_proxy_passed_on_is_never_from_this_computer(header: str) -> None:
    passed = visit(HERE, "localhost", "/", None, **{header: "127.0.0.1"})
    assert verdict(passed, Sharing(), known=False) is Verdict.CLOSED


@pytest.mark.parametrize(
    "origin",
    ["http://evil.example", "null", "http://localhost:8502", "ftp://localhost:8501"],
)
def test_a_foreign_page_is_refused(origin: str) -> None:
    one = visit(HERE, "localhost:8501", origin=origin)
    assert verdict(one, Sharing(), known=False) is Verdict.FOREIGN


def test_two_hosts_or_none_are_refused() -> None:
    two = Visit(HERE, ("localhost", "localhost"), (), "/")
    none = Visit(HERE, (), (), "/")
    for one in (two, none):
        assert verdict(one, SHARED, known=True) is Verdict.MISDIRECTED
    assert not is_loopback("10.0.0.1")
    assert is_loopback("::ffff:127.0.0.1")


def test_a_phone_needs_sharing_the_address_and_the_code() -> None:
    one = visit(PHONE, f"{LAN}:8501")
    assert verdict(one, Sharing(), known=True) is Verdict.CLOSED
    assert verdict(one, SHARED, known=False) is Verdict.ASK
    assert verdict(one, SHARED, known=True) is Verdict.PASS
    other = visit(PHONE, "shop.example")
    assert verdict(other, SHARED, known=True) is Verdict.MISDIRECTED


@given(st.text(max_size=30))
def test_a_class_opens_its_own_routes_only(path: str) -> None:
    """Not even a device that gave the code sees the shop while only a class runs."""
    found = verdict(visit_of(f"/{path}"), CLASS, known=True)
    of_the_class = path == "class" or path.startswith("class/")
    assert found is (Verdict.CLASS if of_the_class else Verdict.CLOSED)
    assert verdict(visit_of("/classes"), CLASS, known=True) is Verdict.CLOSED


def visit_of(path: str) -> Visit:
    return Visit(PHONE, (f"{LAN}:8501",), (), path)


@given(st.integers(1, 12))
def test_codes_are_digits_and_match_themselves(digits: int) -> None:
    code = new_code(digits)
    assert len(code) == digits
    assert code.isdigit()
    assert same_code(f" {code[:2]} {code[2:]} ", code)
    assert not same_code(code[:-1], code)
    assert not same_code("١٢٣", "123")


def test_wrong_codes_wait_longer_and_longer_up_to_a_minute() -> None:
    attempts, now, waits = Attempts(), 100.0, []
    for _ in range(14):
        attempts = attempts.after_wrong(PHONE, now)
        waits.append(attempts.wait_s(PHONE, now))
        now += waits[-1]
    assert waits[:6] == [0, 0, 1, 2, 4, 8]
    assert max(waits) == 60
    assert waits == sorted(waits)
    assert attempts.after_right(PHONE).wait_s(PHONE, now) == 0


def test_many_clients_wait_together_and_are_not_kept_for_ever() -> None:
    attempts = Attempts()
    for place in range(2000):
        attempts = attempts.after_wrong(f"10.0.{place // 250}.{place % 250}", 5.0)
    assert len(attempts.by_client) <= 256
    assert attempts.wait_s("10.9.9.9", 5.0) == 10
    assert attempts.wait_s("10.9.9.9", 5000.0) == 0


def test_guessing_all_codes_takes_years() -> None:
    """A thousand addresses that never wait for themselves still wait together."""
    attempts, now, looked_at = Attempts(), 0.0, 0
    while now < 3600:
        client = f"10.1.0.{looked_at % 1000}"
        now += attempts.wait_s(client, now) + 0.001
        attempts = attempts.after_wrong(client, now)
        looked_at += 1
    assert looked_at < 500
    assert 10**8 / (looked_at * 24 * 365) > 20


def test_keys_are_kept_for_their_owner_and_renewed(tmp_path: Path) -> None:
    file = tmp_path / "new" / "keys.json"
    first = kept_keys(file)
    assert kept_keys(file) == first
    assert file.stat().st_mode & 0o077 == 0
    second = renewed_keys(file)
    assert kept_keys(file) == second != first
    assert first.knows(first.cookie())
    assert not second.knows(first.cookie())
    assert not second.knows("known")
    for broken in ("", "{", "[]", '{"code": "1", "secret": ""}', "[" * 999):
        file.write_text(broken)
        assert len(kept_keys(file).code) == 8


def test_where_the_keys_cannot_be_kept_they_last_while_it_runs(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    assert len(kept_keys(tmp_path / "file" / "keys.json").code) == 8


def test_addresses_that_nobody_reaches_are_left_out() -> None:
    found = ["127.0.0.1", "10.0.0.4", "169.254.1.1", LAN, "10.0.0.4"]
    assert in_order(found, LAN) == (LAN, "10.0.0.4")
    assert in_order(["127.0.0.1"], None) == ()


@pytest.mark.parametrize(
    "way", ["//evil.example", "/\\evil", "http://evil", "/a\r\nSet-Cookie: a=b", ""]
)
def test_after_the_code_nobody_is_led_elsewhere(way: str) -> None:
    assert safe_way(way) == "/"
    assert safe_way("/pick?colour=26+0+0") == "/pick?colour=26+0+0"


class Clock:
    """Seconds that pass when a test says so."""

    now = 0.0

    def __call__(self) -> float:
        """Look at it."""
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def serving(tmp_path: Path, clock: Clock) -> Serving:
    return Serving(tmp_path / "keys.json", clock)


def client_of(serving: Serving, client: str, url: str) -> TestClient:
    """A client of a page that says which Origin and Host it was shown."""

    async def page(request: object) -> PlainTextResponse:
        return PlainTextResponse(str(request.headers.get("origin")))  # type: ignore[attr-defined]

    async def stream(socket: WebSocket) -> None:
        await socket.accept()
        await socket.send_text(
            f"{socket.headers.get('origin')} {socket.headers.get('host')}"
        )
        await socket.close()

    app = Starlette(
        routes=[WebSocketRoute("/stream", stream), Route("/{path:path}", page)],
        middleware=[Middleware(Gate, serving=lambda: serving)],
    )
    return TestClient(app, url, client=(client, 5000), follow_redirects=False)


def share(serving: Serving) -> None:
    serving.share(on=True)
    serving.moved(Door(LAN, 8501))


def test_streamlit_never_sees_an_origin(serving: Serving) -> None:
    """An Origin that it does not know makes it look up its outside address."""
    here = client_of(serving, HERE, "http://localhost:8501")
    own = {"origin": "http://localhost:8501"}
    assert here.get("/", headers=own).text == "None"
    with here.websocket_connect("ws://localhost:8501/stream", headers=own) as socket:
        assert socket.receive_text() == "None localhost"
    answer = here.get("/", headers={"origin": "http://evil.example"})
    assert answer.status_code == 403
    with (
        pytest.raises(WebSocketDisconnect),
        here.websocket_connect(
            "ws://localhost:8501/stream", headers={"origin": "http://evil.example"}
        ),
    ):
        pass


def test_no_frame_of_a_foreign_page_holds_ours(serving: Serving) -> None:
    here = client_of(serving, HERE, "http://localhost:8501")
    assert here.get("/").headers["x-frame-options"] == "SAMEORIGIN"


def test_a_phone_gives_the_code_once(serving: Serving) -> None:
    phone = client_of(serving, PHONE, ADDRESS)
    assert phone.get("/").status_code == 403
    share(serving)
    asked = phone.get("/plan?job=3")
    assert asked.status_code == 401
    assert 'value="/plan?job=3"' in asked.text
    with (
        pytest.raises(WebSocketDisconnect),
        phone.websocket_connect(f"ws://{LAN}:8501/stream"),
    ):
        pass
    code = serving.keys.code
    form = {"code": f"{code[:4]} {code[4:]}", "way": "/plan?job=3"}
    told = phone.post("/device-code", data=form, headers={"origin": ADDRESS})
    assert told.status_code == 303
    assert told.headers["location"] == "/plan?job=3"
    assert "httponly" in told.headers["set-cookie"].lower()
    assert phone.get("/plan?job=3").status_code == 200
    with phone.websocket_connect(
        f"ws://{LAN}:8501/stream", headers={"origin": ADDRESS}
    ) as socket:
        assert socket.receive_text() == "None localhost"
    assert phone.post("/device-code", data=form).headers["location"] == "/"
    serving.renew()
    assert phone.get("/").status_code == 401


def test_a_cookie_of_another_secret_is_worth_nothing(serving: Serving) -> None:
    share(serving)
    phone = client_of(serving, PHONE, ADDRESS)
    phone.cookies.set(COOKIE, Keys.new().cookie())
    assert phone.get("/").status_code == 401


def test_wrong_codes_are_slowed_and_the_right_one_waits_too(
    serving: Serving, clock: Clock
) -> None:
    share(serving)
    phone = client_of(serving, PHONE, ADDRESS)
    codes = ["1", "2", "3"]
    found = [phone.post("/device-code", data={"code": each}) for each in codes]
    assert [each.status_code for each in found] == [401, 401, 429]
    assert "Try again in" in found[-1].text
    right = {"code": serving.keys.code}
    assert phone.post("/device-code", data=right).status_code == 429
    clock.now = 2.0
    assert phone.post("/device-code", data=right).status_code == 303


def test_a_body_longer_than_any_code_is_not_read(serving: Serving) -> None:
    share(serving)
    phone = client_of(serving, PHONE, ADDRESS)
    assert phone.post("/device-code", data={"code": "1" * 99_999}).status_code == 413


def test_letting_no_more_phones_in_lets_go_of_those_that_are(serving: Serving) -> None:
    share(serving)
    before = serving.wanted
    serving.share(on=False)
    assert not serving.wanted.open
    assert serving.wanted.turn > before.turn
