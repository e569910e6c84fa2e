// Turns the settled shape under a finger, the mouse or the arrow keys. Without this script the still picture stays.
for (const figure of document.querySelectorAll("[data-shape]")) {
  const picture = figure.querySelector("img");
  fetch(figure.dataset.shape, { credentials: "same-origin" })
    .then((answer) => (answer.ok ? answer.json() : Promise.reject(answer.status)))
    .then((shape) => turnable(figure, picture, shape))
    .catch(() => {}); // the still picture stays
}

function bytes(text) {
  return Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
}

function turnable(figure, picture, shape) {
  const corners = new Int16Array(bytes(shape.corners).buffer);
  const yarn = bytes(shape.yarn);
  const patches = shape.patches;
  const canvas = document.createElement("canvas");
  canvas.tabIndex = 0;
  canvas.setAttribute("role", "img");
  canvas.setAttribute("aria-label", picture.alt);
  picture.replaceWith(canvas);
  const pen = canvas.getContext("2d");
  const flat = new Float32Array(patches * 10);
  const depth = new Float32Array(patches);
  const bright = new Float32Array(patches);
  const order = new Uint32Array(patches);
  let turn = 0.61, tilt = "flat" in figure.dataset ? 1.48 : 0.52, nearness = 1, waiting = false;

  function place() {
    const wide = canvas.clientWidth || 600;
    const dots = Math.min(window.devicePixelRatio || 1, 2);
    canvas.width = wide * dots;
    canvas.height = (wide * 3 / 4) * dots;
    draw();
  }

  function project() {
    const cosTurn = Math.cos(turn), sinTurn = Math.sin(turn), cosTilt = Math.cos(tilt), sinTilt = Math.sin(tilt);
    const scale = (canvas.height / 2 * 0.82 / 30000) * nearness;
    const half = canvas.width / 2, middle = canvas.height / 2;
    const seen = new Float32Array(15);
    for (let patch = 0; patch < patches; patch++) {
      let away = 0;
      for (let corner = 0; corner < 5; corner++) {
        const at = patch * 15 + corner * 3;
        const x = corners[at] * cosTurn + corners[at + 1] * sinTurn;
        const y = -corners[at] * sinTurn + corners[at + 1] * cosTurn;
        const deep = y * cosTilt - corners[at + 2] * sinTilt;
        const up = y * sinTilt + corners[at + 2] * cosTilt;
        flat[patch * 10 + corner * 2] = half + x * scale;
        flat[patch * 10 + corner * 2 + 1] = middle - up * scale;
        seen[corner * 3] = x; seen[corner * 3 + 1] = deep; seen[corner * 3 + 2] = up;
        away += deep;
      }
      depth[patch] = away;
      bright[patch] = light(seen);
      order[patch] = patch;
    }
    order.sort((one, two) => depth[two] - depth[one]);
  }

  // The same light as in the still picture: from above on the left, on whichever side is seen.
  function light(seen) {
    const ax = seen[6] - seen[0], ay = seen[7] - seen[1], az = seen[8] - seen[2];
    const bx = seen[12] - seen[3], by = seen[13] - seen[4], bz = seen[14] - seen[5];
    let x = ay * bz - az * by, y = az * bx - ax * bz, z = ax * by - ay * bx;
    const length = Math.hypot(x, y, z) || 1;
    if (y > 0) { x = -x; y = -y; z = -z; }
    return 0.55 + 0.5 * Math.max(0, (x * -0.35 + y * -0.75 + z * 0.56) / length);
  }

  function tone(colour, factor) {
    return `rgb(${colour.map((part) => Math.min(255, Math.round(part * factor))).join(" ")})`;
  }

  function draw() {
    waiting = false;
    project();
    pen.clearRect(0, 0, canvas.width, canvas.height);
    const creased = patches <= 6000;
    pen.lineJoin = pen.lineCap = "round";
    for (let number = 0; number < patches; number++) {
      const patch = order[number], at = patch * 10;
      const colour = shape.colours[yarn[patch]] || shape.colours[0];
      const full = tone(colour, bright[patch]);
      const ground = creased ? tone(colour, bright[patch] * 0.7) : full;
      pen.fillStyle = pen.strokeStyle = ground;
      pen.lineWidth = 1;
      pen.beginPath();
      pen.moveTo(flat[at], flat[at + 1]);
      for (let corner = 1; corner < 5; corner++) pen.lineTo(flat[at + corner * 2], flat[at + corner * 2 + 1]);
      pen.closePath();
      pen.fill();
      pen.stroke();
      if (!creased) continue;
      const wide = Math.hypot(flat[at + 8] - flat[at + 4], flat[at + 9] - flat[at + 5]);
      if (wide < 4) continue;
      pen.strokeStyle = full;
      pen.lineWidth = Math.max(1, wide / 4);
      pen.beginPath();
      pen.moveTo(flat[at + 8], flat[at + 9]);
      pen.lineTo((flat[at] + flat[at + 2]) / 2, (flat[at + 1] + flat[at + 3]) / 2);
      pen.lineTo(flat[at + 4], flat[at + 5]);
      pen.stroke();
    }
  }

  function soon() {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(draw);
  }

  function turnBy(sideways, upwards) {
    turn += sideways;
    tilt = Math.max(-1.57, Math.min(1.57, tilt + upwards));
    soon();
  }

  const KEYS = {
    ArrowLeft: [-0.12, 0], ArrowRight: [0.12, 0], ArrowUp: [0, -0.12], ArrowDown: [0, 0.12],
  };
  canvas.addEventListener("keydown", (event) => {
    if (event.key === "+" || event.key === "-") {
      nearness = Math.max(0.5, Math.min(4, nearness * (event.key === "+" ? 1.15 : 0.87)));
      soon();
    } else if (event.key in KEYS) {
      turnBy(...KEYS[event.key]);
    } else return;
    event.preventDefault();
  });
  let held = null;
  canvas.addEventListener("pointerdown", (event) => {
    held = [event.clientX, event.clientY];
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!held) return;
    turnBy((event.clientX - held[0]) / 120, (event.clientY - held[1]) / 120);
    held = [event.clientX, event.clientY];
  });
  for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, () => { held = null; });
  new ResizeObserver(place).observe(canvas);
  place();
}
