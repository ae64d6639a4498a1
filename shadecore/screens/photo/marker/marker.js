/* Marks on a picture, moved by finger, mouse or keyboard.

   data: image (data URL), alt, edition, boxes [{key, label, at: [l, t, r, b]}],
   corners [{key, label, at: [x, y]}] or []. Places are shares of width and height.
   State written back on release: marks {boxes: {key: at}, corners: {key: at}}. */

const STEP = 0.005;
const SMALLEST = 0.015;
const TAP_PX = 6;

export default function (component) {
  const { data, parentElement, setStateValue } = component;
  const root = parentElement.querySelector(".sc-marker");
  if (root.dataset.edition !== data.edition) {
    root.dataset.edition = data.edition;
    build(root, data, setStateValue);
  }
}

function build(root, data, setStateValue) {
  root.replaceChildren();
  const state = { boxes: {}, corners: {}, chosen: null };
  const tools = make("div", "tools", root);
  const stage = make("div", "stage", root);
  const image = make("img", "", stage);
  image.src = data.image;
  image.alt = data.alt;
  image.draggable = false;
  const outline = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  outline.setAttribute("viewBox", "0 0 1 1");
  outline.setAttribute("preserveAspectRatio", "none");
  outline.setAttribute("aria-hidden", "true");
  stage.append(outline);
  const send = () =>
    setStateValue("marks", {
      edition: data.edition,
      boxes: state.boxes,
      corners: state.corners,
    });
  const parts = {};

  const choose = (key) => {
    state.chosen = key;
    for (const [name, part] of Object.entries(parts)) {
      part.element.classList.toggle("chosen", name === key);
      part.button.setAttribute("aria-pressed", String(name === key));
    }
  };
  const draw = () => {
    for (const [key, part] of Object.entries(parts)) {
      const at = state[part.kind][key];
      const style = part.element.style;
      style.left = `${100 * at[0]}%`;
      style.top = `${100 * at[1]}%`;
      if (part.kind === "boxes") {
        style.width = `${100 * (at[2] - at[0])}%`;
        style.height = `${100 * (at[3] - at[1])}%`;
      }
    }
    const points = Object.values(state.corners).map((at) => at.join(","));
    outline.innerHTML = points.length
      ? `<polygon points="${points.join(" ")}" vector-effect="non-scaling-stroke"/>`
      : "";
  };
  const add = (kind, each) => {
    state[kind][each.key] = [...each.at];
    const element = make("div", kind === "boxes" ? "box" : "corner", stage);
    element.tabIndex = 0;
    element.setAttribute("role", "application");
    element.setAttribute("aria-roledescription", "mark");
    element.setAttribute(
      "aria-label",
      `${each.label}: arrow keys move it` +
        (kind === "boxes" ? ", with Shift they size it" : ""),
    );
    make("span", "name", element).textContent = each.label;
    if (kind === "boxes") make("span", "grip", element).dataset.grip = "1";
    const button = make("button", "", tools);
    button.type = "button";
    button.textContent = each.label;
    button.onclick = () => choose(each.key);
    parts[each.key] = { kind, element, button };
    element.onfocus = () => choose(each.key);
    element.onkeydown = (event) => {
      const by = {
        ArrowLeft: [-STEP, 0],
        ArrowRight: [STEP, 0],
        ArrowUp: [0, -STEP],
        ArrowDown: [0, STEP],
      }[event.key];
      if (!by) return;
      event.preventDefault();
      const at = state[kind][each.key];
      if (event.shiftKey && kind === "boxes") size(at, at[2] + by[0], at[3] + by[1]);
      else move(at, by[0], by[1]);
      draw();
    };
    element.onkeyup = (event) => {
      if (event.key.startsWith("Arrow")) send();
    };
  };
  data.boxes.forEach((each) => add("boxes", each));
  data.corners.forEach((each) => add("corners", each));
  if (Object.keys(parts).length) choose(Object.keys(parts)[0]);
  draw();

  const where = (event) => {
    const frame = image.getBoundingClientRect();
    return [
      clamp((event.clientX - frame.left) / frame.width),
      clamp((event.clientY - frame.top) / frame.height),
    ];
  };
  let grabbed = null;
  stage.onpointerdown = (event) => {
    event.preventDefault();
    stage.setPointerCapture(event.pointerId);
    const hit = Object.entries(parts).find(([, part]) =>
      part.element.contains(event.target),
    );
    if (hit) choose(hit[0]);
    const key = state.chosen;
    if (!key) return;
    grabbed = {
      key,
      kind: parts[key].kind,
      from: where(event),
      px: [event.clientX, event.clientY],
      was: [...state[parts[key].kind][key]],
      grip: Boolean(event.target.dataset && event.target.dataset.grip),
      hit: Boolean(hit),
      drawn: false,
    };
    parts[key].element.focus({ preventScroll: true });
  };
  stage.onpointermove = (event) => {
    if (!grabbed) return;
    const to = where(event);
    const far = Math.hypot(event.clientX - grabbed.px[0], event.clientY - grabbed.px[1]);
    if (far < TAP_PX && !grabbed.drawn) return;
    grabbed.drawn = true;
    const at = state[grabbed.kind][grabbed.key];
    if (grabbed.kind === "boxes" && grabbed.grip) {
      size(at, to[0], to[1]);
    } else if (grabbed.hit || grabbed.kind === "corners") {
      at.splice(0, at.length, ...grabbed.was);
      if (grabbed.hit) move(at, to[0] - grabbed.from[0], to[1] - grabbed.from[1]);
      else at.splice(0, 2, ...to);
    } else {
      at[0] = Math.min(grabbed.from[0], to[0]);
      at[1] = Math.min(grabbed.from[1], to[1]);
      size(at, Math.max(grabbed.from[0], to[0]), Math.max(grabbed.from[1], to[1]));
    }
    draw();
  };
  const release = () => {
    if (!grabbed) return;
    const { key, kind, from, hit, drawn } = grabbed;
    grabbed = null;
    if (!drawn && hit) return;
    if (!drawn) {
      const at = state[kind][key];
      if (kind === "corners") at.splice(0, 2, ...from);
      else move(at, from[0] - (at[0] + at[2]) / 2, from[1] - (at[1] + at[3]) / 2);
      draw();
    }
    send();
  };
  stage.onpointerup = release;
  stage.onpointercancel = release;
}

function make(tag, kind, parent) {
  const element = document.createElement(tag);
  if (kind) element.className = kind;
  parent.append(element);
  return element;
}

function clamp(value) {
  return Math.min(1, Math.max(0, value));
}

function move(at, across, down) {
  const wide = at.length === 4 ? at[2] - at[0] : 0;
  const tall = at.length === 4 ? at[3] - at[1] : 0;
  at[0] = Math.min(1 - wide, Math.max(0, at[0] + across));
  at[1] = Math.min(1 - tall, Math.max(0, at[1] + down));
  if (at.length === 4) {
    at[2] = at[0] + wide;
    at[3] = at[1] + tall;
  }
}

function size(at, right, bottom) {
  at[2] = Math.max(at[0] + SMALLEST, clamp(right));
  at[3] = Math.max(at[1] + SMALLEST, clamp(bottom));
}
