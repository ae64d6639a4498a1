/* One line after another: the box clears itself, and all lines are sent each time.

   data: label, placeholder, focus (whether typing goes into it at once), back
   {uid, text} or null: a line to put right. */

let count = 0;
/* A refused line comes back once nobody has typed for so long: what is being typed would
   be joined to it. [ms] */
const QUIET = 1000;

export default function (component) {
  const { data, parentElement, setStateValue } = component;
  const box = parentElement.querySelector(".sc-entry");
  box.setAttribute("aria-label", data.label);
  box.placeholder = data.placeholder;
  if (data.focus && !box.lines) box.focus();
  box.lines = box.lines || [];
  const take = () => {
    const text = box.value.trim();
    if (!text) return;
    count += 1;
    box.lines.push([`${Date.now()}-${count}`, text, box.mends || ""]);
    box.value = box.mends = "";
    box.touched = Date.now();
    setStateValue("lines", [...box.lines]);
  };
  // Enter, or a tap elsewhere; a browser tells of both as a change.
  box.onchange = take;
  box.onkeydown = (event) => {
    if (event.key === "Enter") take();
  };
  box.oninput = () => {
    box.touched = Date.now();
  };
  const giveBack = () => {
    const quiet = Date.now() - (box.touched || 0);
    if (quiet < QUIET) {
      box.later = setTimeout(giveBack, QUIET - quiet);
    } else if (!box.value) {
      box.given = box.mends = data.back.uid;
      box.value = data.back.text;
    }
  };
  clearTimeout(box.later);
  if (data.back && box.given !== data.back.uid) giveBack();
}
