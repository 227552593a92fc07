// Lets somebody sign with a finger, a pen or a mouse, and puts the picture into the form. Without scripts a scan does.
"use strict";

document.querySelectorAll("[data-signature]").forEach((pad) => {
  const canvas = pad.querySelector("canvas");
  const field = document.getElementById(pad.dataset.signature);
  const brush = canvas.getContext("2d");
  let last = null;

  pad.hidden = false;
  document.querySelectorAll("[data-without-script]").forEach((note) => { note.hidden = true; });

  function place(event) {
    const box = canvas.getBoundingClientRect();
    return {
      x: ((event.clientX - box.left) * canvas.width) / box.width,
      y: ((event.clientY - box.top) * canvas.height) / box.height,
    };
  }

  function draw(event) {
    const now = place(event);
    brush.lineWidth = 5;
    brush.lineCap = "round";
    brush.lineJoin = "round";
    brush.strokeStyle = "#000";
    brush.beginPath();
    brush.moveTo(last.x, last.y);
    brush.lineTo(now.x, now.y);
    brush.stroke();
    last = now;
  }

  canvas.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    canvas.setPointerCapture(event.pointerId);
    last = place(event);
    draw(event);
  });
  canvas.addEventListener("pointermove", (event) => { if (last) draw(event); });
  ["pointerup", "pointercancel"].forEach((name) => canvas.addEventListener(name, () => {
    if (last) field.value = canvas.toDataURL("image/png");
    last = null;
  }));
  pad.querySelector("button").addEventListener("click", () => {
    brush.clearRect(0, 0, canvas.width, canvas.height);
    field.value = "";
  });
});
