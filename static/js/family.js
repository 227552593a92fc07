// Before a form is sent, asks if it would arrive: a browser's own error page loses what was typed and the photo.
// Where it would not, the page stays as it is and says so. Without scripts the form is sent at once.
"use strict";

const LONGEST_PATIENCE_MS = 32000;
const AGAIN_AFTER_MS = 15000; // a form that is on its way may be sent anew after this; its `once` still counts once

document.querySelectorAll("form[data-asks-first]").forEach((form) => {
  const sending = form.querySelector("[data-sending]");
  const note = form.querySelector("[data-not-sent]");
  const opened = Date.now();
  let patience = 8000;
  let isBusy = false;

  function ask(address, how) {
    const limit = new AbortController();
    const timer = setTimeout(() => limit.abort(), patience);
    return fetch(address, { ...how, cache: "no-store", signal: limit.signal }).finally(() => clearTimeout(timer));
  }

  // Why the form would not arrive: "connection", "closed", or nothing. Any answer but a failing site's will do.
  async function whyNot() {
    try {
      if ((await ask(form.dataset.asksFirst)).status >= 500) return "connection";
      const isOld = Date.now() - opened >= form.dataset.openForMin * 60000;
      if (isOld && (await ask(location.href, { redirect: "manual" })).type === "opaqueredirect") return "closed";
    } catch {
      patience = Math.min(2 * patience, LONGEST_PATIENCE_MS); // a slow connection gets longer at the next press
      return "connection";
    }
    return "";
  }

  function wait(isWaiting) {
    isBusy = isWaiting;
    sending.hidden = !isWaiting;
  }

  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (isBusy) return;
    wait(true);
    note.hidden = true;
    const why = await whyNot();
    if (!why) {
      form.submit();
      setTimeout(() => wait(false), AGAIN_AFTER_MS);
      return;
    }
    wait(false);
    note.querySelectorAll("[data-why]").forEach((part) => { part.hidden = part.dataset.why !== why; });
    note.hidden = false;
    note.focus({ preventScroll: true });
    note.scrollIntoView({ block: "center" });
  });
  window.addEventListener("pageshow", (event) => { if (event.persisted) wait(false); });
});
