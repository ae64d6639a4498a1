// One phone of a class. It asks every other second how the exercise stands.
"use strict";
// The door of the class shuts with it, and then nobody is there to say so.
const LOST = "The class has ended, or this phone has left the Wi-Fi.";
const SILENT = "The computer does not answer. Join its Wi-Fi, then try again.";
const EVERY_MS = 1500;
const by = (name) => document.getElementById(name);
let last = "";
let seen = null;

function show(name) {
  for (const each of ["join", "ask", "end"]) by(each).hidden = each !== name;
}

function tell(problem) {
  by("problem").textContent = problem || "";
  by("problem").hidden = !problem;
}

async function send(way, values) {
  const options = values === undefined ? {} : {
    method: "POST",
    headers: {"Content-Type": "application/json"},
    body: JSON.stringify(values),
  };
  const answer = await fetch(way, options);
  return [answer.status, await answer.json()];
}

function label(state, place) {
  if (!state.shown) return state.mine === place ? "your choice" : "";
  const votes = state.tally[place];
  const best = state.best.includes(place) ? "✓ " : "";
  const mine = state.mine === place ? ", yours" : "";
  return `${best}${state.costs[place]} · ${votes} answered this${mine}`;
}

function draw(state) {
  const text = JSON.stringify(state);
  if (text === last) return;
  last = text;
  if (state.end) { show("end"); return; }
  by("asked").textContent = state.asked;
  by("colour").style.background = state.colour;
  by("told").textContent = state.shown ? state.told
    : state.mine === null ? "" : "Answered. Until the results are shown you may change it.";
  by("choices").replaceChildren(...state.choices.map((each, place) => {
    const button = document.createElement("button");
    const name = document.createElement("span");
    const mark = document.createElement("span");
    name.textContent = each.name;
    mark.textContent = label(state, place);
    button.type = "button";
    button.append(name, mark);
    button.style.background = each.back;
    button.style.color = each.ink;
    button.disabled = state.shown;
    button.className = state.shown && state.best.includes(place) ? "best" : "";
    button.setAttribute("aria-pressed", String(state.mine === place));
    button.addEventListener("click", () => answer(state.place, place));
    return button;
  }));
  show("ask");
  if (seen !== state.place) { seen = state.place; by("asked").focus(); }
}

async function answer(place, choice) {
  try {
    const [status, said] = await send("/class/answer", {place, choice});
    tell(said.problem);
    if (status === 200) draw(said);
  } catch { tell(LOST); }
}

async function ask() {
  try {
    const [status, said] = await send("/class/state");
    if (status === 200 && !said.out) {
      if (by("ask").hidden) tell("");
      draw(said);
    } else if (by("join").hidden) {
      last = "";
      show("join");
      tell(seen === null ? "" : said.out || said.problem);
    }
  } catch { tell(LOST); }
  setTimeout(ask, EVERY_MS);
}

async function join(code) {
  const [status, said] = await send("/class/join", {code});
  tell(said.problem);
  if (status === 200) draw((await send("/class/state"))[1]);
}

by("join").addEventListener("submit", (event) => {
  event.preventDefault();
  join(by("code").value).catch(() => tell(SILENT));
});
// The code of a scanned picture comes behind the hash, which no server is sent.
const scanned = location.hash.slice(1);
history.replaceState(null, "", location.pathname);
(scanned ? join(scanned).catch(() => {}) : Promise.resolve()).finally(ask);
