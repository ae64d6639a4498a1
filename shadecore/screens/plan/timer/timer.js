/* Times at the bench, counted from the clock: right again after the screen was dark.

   data: now (the shop's clock when this was sent), clocks [{until, before, after, note,
   alarm}], the first one large; texts {soundOn, soundOff, awakeOn, awakeOff, awakeRefused,
   noAwake}.
   Moments are milliseconds since 1970. {t} in a text stands for the time left, or for
   the time since. A clock without "until" shows its text as it stands. */

const TICK_MS = 250;
const CLOCK_OFF_MS = 2000;
const MOST_LARGE = 7;
const LATE_MS = 60000;
const BEEPS = [0, 0.35, 0.7, 1.4, 1.75, 2.1];
const BEEP_S = 0.22;
const BEEP_HZ = 988;
const apart = new Map();
let sound = null;
let lock = null;
let awake = false;
const rung = new Set();

/* How far the phone's clock is from the shop's; a little is only the way here. */
function apartFrom(now) {
  if (!apart.has(now)) {
    const off = now - Date.now();
    apart.clear();
    apart.set(now, Math.abs(off) < CLOCK_OFF_MS ? 0 : off);
  }
  return apart.get(now);
}

function shown(ms, up) {
  const seconds = up ? Math.floor(ms / 1000) : Math.ceil(ms / 1000);
  const two = (value) => String(value).padStart(2, "0");
  const minutes = Math.floor(seconds / 60);
  const hours = Math.floor(minutes / 60);
  if (hours >= 24) return `${Math.floor(hours / 24)} d ${hours % 24} h`;
  if (hours >= 1) return `${hours} h ${two(minutes % 60)} min`;
  return `${minutes}:${two(seconds % 60)}`;
}

function said(clock, now) {
  if (clock.until === null) return { over: false, text: clock.before };
  const left = clock.until - now;
  const over = left <= 0;
  const text = (over ? clock.after : clock.before) || "";
  return { over, text: text.replaceAll("{t}", shown(Math.abs(left), over)) };
}

function ring() {
  if (navigator.vibrate) navigator.vibrate([400, 200, 400, 200, 800]);
  if (!sound) return;
  for (const at of BEEPS) {
    const tone = sound.createOscillator();
    const level = sound.createGain();
    tone.frequency.value = BEEP_HZ;
    level.gain.value = 0.4;
    tone.connect(level).connect(sound.destination);
    tone.start(sound.currentTime + at);
    tone.stop(sound.currentTime + at + BEEP_S);
  }
}

async function keepAwake() {
  if (!awake || !navigator.wakeLock || document.visibilityState !== "visible") return;
  try {
    lock = await navigator.wakeLock.request("screen");
  } catch {
    lock = null;
  }
}

document.addEventListener("visibilitychange", keepAwake);

export default function (component) {
  const { data, parentElement } = component;
  const root = parentElement.querySelector(".sc-clock");
  const off = apartFrom(data.now);
  clearInterval(root.ticking);
  root.replaceChildren();
  const box = make("div", "sc-timer", root);
  box.setAttribute("role", "timer");
  const lines = data.clocks.map((clock, place) => {
    if (place > 0) return { clock, line: make("p", "", box) };
    const title = make("span", "", box);
    title.textContent = clock.title || "";
    const big = make("b", "", box);
    return { clock, line: big, note: make("span", "", box) };
  });
  const draw = () => {
    const now = Date.now() + off;
    for (const { clock, line, note } of lines) {
      const { over, text } = said(clock, now);
      write(line, text);
      const name = `${clock.until}`;
      if (over && clock.alarm && !rung.has(name)) {
        rung.add(name);
        if (now - clock.until < LATE_MS) ring();
      }
      if (!note) {
        line.classList.toggle("over", over);
        continue;
      }
      line.classList.toggle("words", text.length > MOST_LARGE);
      box.classList.toggle("over", over && clock.alarm);
      const under = over ? clock.since : clock.note;
      write(note, (under || "").replaceAll("{t}", shown(Math.abs(clock.until - now), over)));
    }
  };
  draw();
  root.ticking = setInterval(draw, TICK_MS);
  if (data.texts) tools(root, data.texts);
  return () => clearInterval(root.ticking);
}

function tools(root, texts) {
  const bar = make("div", "sc-tools", root);
  const noise = make("button", "", bar);
  noise.type = "button";
  const drawNoise = () => {
    noise.textContent = sound ? texts.soundOn : texts.soundOff;
    noise.setAttribute("aria-pressed", String(Boolean(sound)));
  };
  noise.addEventListener("click", () => {
    if (sound) {
      sound.close();
      sound = null;
    } else {
      sound = new (window.AudioContext || window.webkitAudioContext)();
      sound.resume();
    }
    drawNoise();
  });
  drawNoise();
  if (!navigator.wakeLock) {
    make("small", "", bar).textContent = texts.noAwake;
    return;
  }
  const light = make("button", "", bar);
  const told = make("small", "", bar);
  told.setAttribute("role", "status");
  light.type = "button";
  const drawLight = () => {
    light.textContent = awake ? texts.awakeOn : texts.awakeOff;
    light.setAttribute("aria-pressed", String(awake));
  };
  light.addEventListener("click", async () => {
    awake = !awake;
    if (awake) await keepAwake();
    else if (lock) await lock.release();
    // A phone low on battery refuses; then the screen goes dark and must not be trusted.
    const refused = awake && !lock;
    if (refused) awake = false;
    drawLight();
    write(told, refused ? texts.awakeRefused : "");
  });
  drawLight();
}

function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

function make(tag, kind, parent) {
  const element = document.createElement(tag);
  if (kind) element.className = kind;
  parent.append(element);
  return element;
}
