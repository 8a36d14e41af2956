"use strict";
(() => {
  const body = document.body;
  const byId = id => document.getElementById(id);

  // What is kept in the browser; where that may not be, all works but nothing is kept.
  const place = "evenspit-card-" + body.dataset.card;
  let kept = {};
  try { kept = JSON.parse(localStorage.getItem(place)) || {}; } catch (e) { kept = {}; }
  const keep = (key, value) => {
    kept[key] = value;
    try { localStorage.setItem(place, JSON.stringify(kept)); } catch (e) { /* not kept */ }
  };

  const steps = Array.from(document.querySelectorAll(".step"));
  const box = step => step.querySelector("input");
  const show = step => step.classList.toggle("ticked", box(step).checked);
  for (const step of steps) {
    box(step).checked = kept[box(step).id] === true;
    show(step);
    box(step).addEventListener("change", () => { keep(box(step).id, box(step).checked); show(step); tell(); });
  }
  for (const blank of document.querySelectorAll(".blanks input")) {
    if (typeof kept[blank.id] === "string") blank.value = kept[blank.id];
    blank.addEventListener("input", () => keep(blank.id, blank.value));
  }
  byId("clear").addEventListener("click", () => {
    if (!confirm("Clear all ticks and what is filled in?")) return;
    kept = {};
    keep("cleared", true);
    for (const step of steps) { box(step).checked = false; show(step); }
    for (const blank of document.querySelectorAll(".blanks input")) blank.value = "";
    tell();
  });

  // The timer. Seconds of steps count from midnight of the day it is served, or from when it goes on.
  const timer = byId("timer"), next = byId("next"), day = byId("day"), start = byId("start");
  const byClock = body.dataset.clock === "1";
  const timed = steps.filter(step => step.dataset.at !== undefined)
    .map(step => ({ step, at: Number(step.dataset.at) })).sort((a, b) => a.at - b.at);
  const pad = n => String(n).padStart(2, "0");
  const localDay = t => t.getFullYear() + "-" + pad(t.getMonth() + 1) + "-" + pad(t.getDate());
  const zero = () => {
    if (!byClock) return typeof kept.start === "number" ? kept.start : null;
    const d = day.value.split("-").map(Number);
    return d.length === 3 && d[0] > 0 ? d : null;
  };
  // By the clock on the wall, so that a day on which clocks are changed is right too.
  const moment = (origin, at) => byClock
    ? new Date(origin[0], origin[1] - 1, origin[2], 0, 0, at).getTime() : origin + 1000 * at;
  const long = s => {
    const days = Math.floor(s / 86400), h = Math.floor(s % 86400 / 3600), m = Math.floor(s % 3600 / 60);
    return (days > 0 ? days + " d " : "") + h + ":" + pad(m) + ":" + pad(Math.floor(s % 60));
  };
  const tell = () => {
    if (!timer) return;
    const origin = zero(), now = Date.now();
    for (const t of timed) t.step.classList.remove("due");
    next.textContent = "";
    if (origin === null) { next.textContent = byClock ? "Say on which day it is served." : "Press when the load goes on."; return; }
    const open = timed.filter(t => !box(t.step).checked);
    const past = open.filter(t => moment(origin, t.at) <= now), ahead = open.filter(t => moment(origin, t.at) > now);
    if (past.length > 0) past[past.length - 1].step.classList.add("due");
    const line = (lead, t, count) => {
      const p = document.createElement("span");
      if (count) { const c = document.createElement("span"); c.className = "count"; c.textContent = count; p.append(c); }
      p.append(lead + t.step.querySelector("span").textContent);
      next.append(p);
    };
    if (past.length > 0) { line("Due: ", past[past.length - 1]); next.append(document.createElement("br")); }
    if (ahead.length > 0) line("Next: ", ahead[0], long((moment(origin, ahead[0].at) - now) / 1000));
    else if (past.length === 0) next.textContent = "All is done.";
  };
  if (timer) {
    timer.hidden = false;
    if (day) {
      day.value = typeof kept.day === "string" ? kept.day : localDay(new Date());
      day.addEventListener("change", () => { keep("day", day.value); tell(); });
    }
    if (start) start.addEventListener("click", () => {
      if (typeof kept.start === "number" && !confirm("Start the time anew?")) return;
      keep("start", Date.now());
      tell();
    });
    tell();
    setInterval(tell, 1000);
  }

  // The picture that can be turned. Without WebGL 2 the still one stays.
  const mesh = byId("mesh"), canvas = byId("model");
  if (!mesh || !canvas) return;
  const gl = canvas.getContext("webgl2", { antialias: true });
  if (!gl) return;
  const vertexText = `#version 300 es
    layout(location = 0) in vec3 at;
    layout(location = 1) in vec3 normal;
    layout(location = 2) in float turns;
    layout(location = 3) in vec3 colour;
    uniform mat4 seen;
    uniform vec3 eye;
    uniform float scale, turn;
    uniform vec2 axis;
    out vec3 shade;
    void main() {
      float angle = turns * turn, c = cos(angle), s = sin(angle);
      mat3 about = mat3(1, 0, 0, 0, c, s, 0, -s, c);
      vec3 rod = vec3(0, axis), p = rod + about * (at * scale - rod), n = normalize(about * normal), to = normalize(eye - p);
      vec3 key = normalize(to + vec3(0, 0, 0.5));
      shade = colour * (0.45 + 0.60 * max(dot(n, key), 0.0));
      gl_Position = seen * vec4(p, 1);
    }`;
  const fragmentText = `#version 300 es
    precision mediump float;
    in vec3 shade;
    out vec4 pixel;
    void main() { pixel = vec4(shade, 1); }`;
  const program = gl.createProgram();
  for (const [kind, text] of [[gl.VERTEX_SHADER, vertexText], [gl.FRAGMENT_SHADER, fragmentText]]) {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  }
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) return;
  const bytes = Uint8Array.from(atob(mesh.textContent), c => c.charCodeAt(0));
  const corners = Number(mesh.dataset.corners), triangles = Number(mesh.dataset.triangles), stride = 14;
  gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
  gl.bufferData(gl.ARRAY_BUFFER, bytes.subarray(0, stride * corners), gl.STATIC_DRAW);
  gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, gl.createBuffer());
  gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, bytes.subarray(stride * corners), gl.STATIC_DRAW);
  gl.vertexAttribPointer(0, 3, gl.SHORT, false, stride, 0);
  gl.vertexAttribPointer(1, 3, gl.BYTE, true, stride, 6);
  gl.vertexAttribPointer(2, 1, gl.UNSIGNED_BYTE, false, stride, 9);
  gl.vertexAttribPointer(3, 3, gl.UNSIGNED_BYTE, true, stride, 10);
  for (let n = 0; n < 4; ++n) gl.enableVertexAttribArray(n);
  gl.useProgram(program);
  gl.enable(gl.DEPTH_TEST);
  gl.clearColor(1, 1, 1, 1);
  const uniform = name => gl.getUniformLocation(program, name);
  gl.uniform1f(uniform("scale"), Number(mesh.dataset.scale));
  const middle = mesh.dataset.middle.split(",").map(Number);
  gl.uniform2f(uniform("axis"), -middle[1], -middle[2]);

  const numbers = new DataView(bytes.buffer), scale = Number(mesh.dataset.scale), least = [0, 0, 0], most = [0, 0, 0];
  for (let n = 0; n < corners; ++n) {
    for (let k = 0; k < 3; ++k) {
      const value = scale * numbers.getInt16(stride * n + 2 * k, true);
      least[k] = Math.min(least[k], value);
      most[k] = Math.max(most[k], value);
    }
  }
  const hull = [0, 1, 2, 3, 4, 5, 6, 7].map(n => [0, 1, 2].map(k => (n >> k & 1 ? most : least)[k]));
  const reach = Number(mesh.dataset.reach), half = 15 * Math.PI / 180;
  let azimuth = -0.45, elevation = 0.32, away = 1, waiting = false;
  const draw = () => {
    waiting = false;
    const ratio = Math.min(devicePixelRatio || 1, 2);
    canvas.width = Math.max(1, Math.round(canvas.clientWidth * ratio));
    canvas.height = Math.max(1, Math.round(canvas.clientHeight * ratio));
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    const aspect = canvas.width / canvas.height, cot = 1 / Math.tan(half);
    const ce = Math.cos(elevation), se = Math.sin(elevation), ca = Math.cos(azimuth), sa = Math.sin(azimuth);
    const f = [-ce * sa, ce * ca, -se], r = [ca, sa, 0], u = [-se * sa, se * ca, ce];
    const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    // As near as can be without a corner of the box round it being cut.
    const needed = hull.map(p => Math.max(Math.abs(dot(p, u)), Math.abs(dot(p, r)) / aspect) * cot - dot(p, f));
    const distance = away * 1.03 * Math.max(...needed);
    const eye = f.map(x => -distance * x), near = 0.05 * reach, far = distance + 3 * reach;
    const a = (far + near) / (near - far), b = 2 * far * near / (near - far);
    const row = (v, k) => [k * v[0], k * v[1], k * v[2], -k * dot(v, eye)];
    const x = row(r, cot / aspect), y = row(u, cot), back = row(f, -1), w = row(f, 1);
    const z = back.map((value, n) => a * value + (n === 3 ? b : 0));
    gl.uniformMatrix4fv(uniform("seen"), false, [0, 1, 2, 3].flatMap(n => [x[n], y[n], z[n], w[n]]));
    gl.uniform3fv(uniform("eye"), eye);
    gl.uniform1f(uniform("turn"), Number(byId("turn").value) * Math.PI / 180);
    gl.drawElements(gl.TRIANGLES, 3 * triangles, gl.UNSIGNED_INT, 0);
    canvas.dataset.drawn = String(Number(canvas.dataset.drawn || 0) + 1);
  };
  const redraw = () => { if (!waiting) { waiting = true; requestAnimationFrame(draw); } };
  const orbit = (dx, dy) => {
    azimuth -= dx;
    elevation = Math.max(-1.5, Math.min(1.5, elevation + dy));
    redraw();
  };
  let from = null;
  canvas.addEventListener("pointerdown", e => { from = [e.clientX, e.clientY]; canvas.setPointerCapture(e.pointerId); });
  canvas.addEventListener("pointermove", e => {
    if (!from) return;
    orbit(0.01 * (e.clientX - from[0]), 0.01 * (e.clientY - from[1]));
    from = [e.clientX, e.clientY];
  });
  for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, () => { from = null; });
  canvas.addEventListener("keydown", e => {
    const by = { ArrowLeft: [-0.1, 0], ArrowRight: [0.1, 0], ArrowUp: [0, 0.1], ArrowDown: [0, -0.1] }[e.key];
    if (by) { orbit(by[0], by[1]); e.preventDefault(); }
    if (e.key === "+" || e.key === "-") { away *= e.key === "+" ? 0.9 : 1 / 0.9; away = Math.max(0.3, Math.min(2, away)); redraw(); }
  });
  canvas.addEventListener("webglcontextlost", e => {
    e.preventDefault();
    canvas.hidden = byId("turning").hidden = true;
    if (byId("still")) byId("still").hidden = false;
  });
  byId("turn").addEventListener("input", redraw);
  addEventListener("resize", redraw);
  if (byId("still")) byId("still").hidden = true;
  canvas.hidden = byId("turning").hidden = false;
  draw();
})();
