"use strict";
// Shows the roof of this page: reads the glTF in it and draws it with WebGL 2.
const SHOW = {picked: -1, load: 0};
const $ = id => document.getElementById(id);

function bytesOf(base64) {
  const text = atob(base64), out = new Uint8Array(text.length);
  for (let k = 0; k < text.length; k++) out[k] = text.charCodeAt(k);
  return out;
}

// A binary glTF: header, JSON chunk, binary chunk.
function readGlb(bytes) {
  const view = new DataView(bytes.buffer);
  const size = view.getUint32(12, true);
  const json = JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + size)));
  const start = 28 + size;
  const kinds = {5123: Uint16Array, 5125: Uint32Array, 5126: Float32Array};
  const widths = {SCALAR: 1, VEC2: 2, VEC3: 3, VEC4: 4};
  const read = index => {
    const a = json.accessors[index], width = widths[a.type];
    const kind = kinds[a.componentType], out = new kind(a.count * width);
    if (a.bufferView !== undefined) {
      const part = json.bufferViews[a.bufferView];
      const from = start + (part.byteOffset || 0) + (a.byteOffset || 0);
      out.set(new kind(bytes.buffer.slice(from, from + out.byteLength)));
    }
    if (a.sparse) {
      const where = json.bufferViews[a.sparse.indices.bufferView];
      const what = json.bufferViews[a.sparse.values.bufferView];
      const at = new kinds[a.sparse.indices.componentType](bytes.buffer.slice(
        start + (where.byteOffset || 0), start + (where.byteOffset || 0) + where.byteLength));
      const values = new kind(bytes.buffer.slice(
        start + (what.byteOffset || 0), start + (what.byteOffset || 0) + what.byteLength));
      for (let n = 0; n < a.sparse.count; n++)
        for (let k = 0; k < width; k++) out[at[n] * width + k] = values[n * width + k];
    }
    return out;
  };
  return json.nodes.filter(node => node.mesh !== undefined).map(node => {
    const part = json.meshes[node.mesh].primitives[0];
    const mesh = {name: node.name, index: new Uint32Array(read(part.indices)), data: {}};
    for (const name in part.attributes) mesh.data[name] = read(part.attributes[name]);
    mesh.moves = (part.targets || []).map(t => read(t.POSITION));
    return mesh;
  });
}

const VERTEX = `#version 300 es
in vec3 at, now, ten, fifty, instead, shade, place, mark;
uniform mat4 screen; uniform vec3 weight; uniform vec3 fade; uniform float laid;
out vec3 tint, world, where; out float pattern; flat out float member; out float shown;
void main() {
  world = at + weight.x * now + weight.y * ten + weight.z * fifty + laid * instead;
  tint = shade; where = place; pattern = mark.x; member = mark.y;
  shown = mark.z > 0.5 ? fade.x : 1.0;
  gl_Position = screen * vec4(world, 1.0);
}`;
const FRAGMENT = `#version 300 es
precision highp float;
in vec3 tint, world, where; in float pattern; flat in float member; in float shown;
uniform vec3 eye; uniform float picking; uniform float picked;
out vec4 colour;
float stripe(float along, float share) {
  return step(fract(along / 0.24), share);
}
void main() {
  if (shown < 0.5) discard;
  if (picking > 0.5) {
    float id = member + 1.0;
    colour = vec4(mod(id, 256.0) / 255.0, floor(id / 256.0) / 255.0, 0.0, 1.0);
    return;
  }
  vec3 normal = normalize(cross(dFdx(world), dFdy(world)));
  float light = 0.80 + 0.20 * dot(normal, normalize(vec3(-0.36, 0.8, 0.48)));
  float across = where.y + where.z, ink = 0.0;
  if (pattern > 1.0) ink = max(stripe(where.x + across, 0.3), stripe(where.x - across, 0.3));
  else if (pattern > 0.0) ink = stripe(where.x + across, pattern);
  vec3 base = mix(tint, vec3(0.114, 0.086, 0.149), ink) * light;
  if (picked >= 0.0 && abs(member - picked) > 0.5) base = mix(base, vec3(0.9), 0.7);
  colour = vec4(base, 1.0);
}`;

function program(gl) {
  const made = gl.createProgram();
  for (const [kind, text] of [[gl.VERTEX_SHADER, VERTEX], [gl.FRAGMENT_SHADER, FRAGMENT]]) {
    const one = gl.createShader(kind);
    gl.shaderSource(one, text);
    gl.compileShader(one);
    if (!gl.getShaderParameter(one, gl.COMPILE_STATUS)) throw Error(gl.getShaderInfoLog(one));
    gl.attachShader(made, one);
  }
  gl.linkProgram(made);
  if (!gl.getProgramParameter(made, gl.LINK_STATUS)) throw Error(gl.getProgramInfoLog(made));
  return made;
}

function upload(gl, shader, mesh) {
  const count = mesh.data.POSITION.length, none = new Float32Array(count);
  const moves = [0, 1, 2].map(k => mesh.moves[k] || none);
  const arrays = {at: mesh.data.POSITION, now: moves[0], ten: moves[1], fifty: moves[2],
    instead: none, shade: mesh.data._SHADE, place: mesh.data._PLACE, mark: mesh.data._MARK};
  const held = gl.createVertexArray(), buffers = {};
  gl.bindVertexArray(held);
  for (const name in arrays) {
    const where = gl.getAttribLocation(shader, name);
    if (where < 0) continue;
    buffers[name] = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, buffers[name]);
    gl.bufferData(gl.ARRAY_BUFFER, arrays[name], gl.STATIC_DRAW);
    gl.enableVertexAttribArray(where);
    gl.vertexAttribPointer(where, 3, gl.FLOAT, false, 0, 0);
  }
  gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, gl.createBuffer());
  gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, mesh.index, gl.STATIC_DRAW);
  return {held, count: mesh.index.length, buffers, arrays, moves: mesh.moves};
}

// Moves and colours of a mesh under one of the loads; part of its snow has fallen.
// Where snow lies in part, it is laid on the roof without snow, the load before it.
function lay(gl, mesh, load, part) {
  if (!mesh.moves.length) return;
  const from = load > 1 ? mesh.moves[3] : null, to = load > 0 ? mesh.moves[2 + load] : null;
  const instead = new Float32Array(mesh.arrays.at.length);
  if (to) for (let k = 0; k < instead.length; k++)
    instead[k] = from ? from[k] + part * (to[k] - from[k]) : to[k];
  const {colours, patterns} = DATA.loads[load > 1 && part === 0 ? 1 : load];
  const {shade, mark} = mesh.arrays;
  for (let k = 0; k < mark.length; k += 3) {
    const member = Math.round(mark[k + 1]);
    if (member < 0) continue;
    mark[k] = patterns[member];
    shade.set(colours[member], k);
  }
  for (const [name, values] of [["instead", instead], ["shade", shade], ["mark", mark]]) {
    gl.bindBuffer(gl.ARRAY_BUFFER, mesh.buffers[name]);
    gl.bufferData(gl.ARRAY_BUFFER, values, gl.DYNAMIC_DRAW);
  }
}

// The eye goes around a point; y is up, as in glTF.
const EYE = {turn: 0.75, tilt: 0.42, away: 1, at: [0, 0, 0]};

function screenOf(aspect) {
  const {turn, tilt, away, at} = EYE;
  const back = [Math.cos(tilt) * Math.sin(turn), Math.sin(tilt), Math.cos(tilt) * Math.cos(turn)];
  const eye = at.map((v, k) => v + away * back[k]);
  const right = [Math.cos(turn), 0, -Math.sin(turn)];
  const up = [back[1] * right[2] - back[2] * right[1], back[2] * right[0] - back[0] * right[2],
    back[0] * right[1] - back[1] * right[0]];
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const f = 1 / Math.tan(0.36) * Math.min(1, aspect), near = away / 40, far = away * 6;
  const rows = [right.map(v => v * f / aspect), up.map(v => v * f), back];
  const t = [-dot(rows[0], eye), -dot(rows[1], eye), -dot(back, eye)];
  const z = (far + near) / (near - far), w = 2 * far * near / (near - far);
  const out = [];
  for (let k = 0; k < 3; k++) out.push(rows[0][k], rows[1][k], z * back[k], -back[k]);
  out.push(t[0], t[1], z * t[2] + w, -t[2]);
  return {matrix: new Float32Array(out), eye, right, up, back};
}

// The points of meshes that are drawn, with or without what slopes.
function shownOf(meshes, slope) {
  const points = [];
  for (const {arrays: {at, mark}} of meshes) for (let k = 0; k < at.length; k += 3)
    if (slope || mark[k + 2] < 0.5) points.push([at[k], at[k + 1], at[k + 2]]);
  return points;
}

// Comes as near as shows every point, clear of the title that stands over the picture.
// Seen along back, a point is inside an edge of the picture while the eye is farther back
// than the line through it with the slope of that edge; the farthest of them decides.
const CLEAR = {aside: 0.94, above: 0.72, below: 0.92};

function comeNear(points, aspect) {
  const {right, up, back} = screenOf(aspect);
  const f = 1 / Math.tan(0.36) * Math.min(1, aspect), dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const aside = CLEAR.aside * aspect / f, above = CLEAR.above / f, below = CLEAR.below / f;
  let [east, west, top, bottom, first, last] = [-1e9, -1e9, -1e9, -1e9, 1e9, -1e9];
  for (const point of points) {
    const x = dot(point, right), y = dot(point, up), z = dot(point, back);
    east = Math.max(east, z + x / aside);
    west = Math.max(west, z - x / aside);
    top = Math.max(top, z + y / above);
    bottom = Math.max(bottom, z - y / below);
    first = Math.min(first, z);
    last = Math.max(last, z);
  }
  const eye = Math.max((east + west) / 2, (top * above + bottom * below) / (above + below));
  const x = (east - west) / 2 * aside;
  const y = ((top - eye) * above + (eye - bottom) * below) / 2;
  const middle = (first + last) / 2;
  EYE.at = right.map((v, k) => x * v + y * up[k] + middle * back[k]);
  EYE.away = eye - middle;
}

// As framed, now, ten and fifty years: parts of the three shapes in the file.
function weights(years) {
  if (years < 0) return [0, 0, 0];
  const share = Math.pow(years / 50, DATA.exponent), ten = Math.pow(0.2, DATA.exponent);
  if (share <= ten) return [1 - share / ten, share / ten, 0];
  const part = (share - ten) / (1 - ten);
  return [0, 1 - part, part];
}

function start() {
  const canvas = $("roof");
  const gl = canvas.getContext("webgl2", {antialias: true, preserveDrawingBuffer: true});
  if (!gl) { $("told").textContent = "This browser has no WebGL 2, which the picture needs."; return; }
  const shader = program(gl), place = name => gl.getUniformLocation(shader, name);
  const meshes = readGlb(bytesOf(DATA.glb)).map(m => upload(gl, shader, m));
  $("slope").checked = DATA.slope;
  const near = () => comeNear(shownOf(meshes, $("slope").checked),
    canvas.clientWidth / canvas.clientHeight);
  const years = () => $("bent").checked ? Number($("years").value) : -1;

  function paint(picking) {
    const wide = canvas.width, tall = canvas.height;
    const seen = screenOf(wide / tall);
    gl.viewport(0, 0, wide, tall);
    gl.enable(gl.DEPTH_TEST);
    gl.clearColor(...(picking ? [0, 0, 0, 1] : [0.902, 0.918, 0.933, 1]));
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.useProgram(shader);
    gl.uniformMatrix4fv(place("screen"), false, seen.matrix);
    gl.uniform3fv(place("weight"), weights(years()));
    gl.uniform1f(place("laid"), years() < 0 ? 0 : 1);
    gl.uniform3f(place("fade"), $("slope").checked ? 1 : 0, 0, 0);
    gl.uniform3fv(place("eye"), seen.eye);
    gl.uniform1f(place("picking"), picking ? 1 : 0);
    gl.uniform1f(place("picked"), SHOW.picked);
    for (const m of meshes) {
      gl.bindVertexArray(m.held);
      gl.drawElements(gl.TRIANGLES, m.count, gl.UNSIGNED_INT, 0);
    }
    return seen;
  }
  let due = 0;
  const draw = () => { if (!due) due = requestAnimationFrame(() => { due = 0; paint(false); }); };

  function resize() {
    const scale = Math.min(window.devicePixelRatio || 1, 2);
    canvas.width = Math.max(1, Math.round(canvas.clientWidth * scale));
    canvas.height = Math.max(1, Math.round(canvas.clientHeight * scale));
    draw();
  }
  function pick(x, y) {
    const box = canvas.getBoundingClientRect(), one = new Uint8Array(4);
    paint(true);
    gl.readPixels(Math.round((x - box.left) / box.width * canvas.width),
      Math.round((1 - (y - box.top) / box.height) * canvas.height), 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, one);
    const id = one[0] + 256 * one[1] - 1;
    SHOW.picked = id >= 0 && id < DATA.members.length ? id : -1;
    say();
    draw();
  }
  const say = () => {
    const n = SHOW.picked;
    $("told").textContent = n < 0 ? DATA.hint : DATA.members[n] + DATA.loads[SHOW.load].told[n];
  };
  const fingers = new Map();
  let travelled = 0, spread = 0;
  const gap = () => { const [a, b] = [...fingers.values()]; return Math.hypot(a.x - b.x, a.y - b.y); };
  canvas.addEventListener("pointerdown", e => {
    canvas.setPointerCapture(e.pointerId);
    fingers.set(e.pointerId, {x: e.clientX, y: e.clientY});
    travelled = fingers.size > 1 ? 99 : 0;
    if (fingers.size === 2) spread = gap();
  });
  canvas.addEventListener("pointermove", e => {
    const was = fingers.get(e.pointerId);
    if (!was) return;
    const dx = e.clientX - was.x, dy = e.clientY - was.y;
    travelled += Math.abs(dx) + Math.abs(dy);
    fingers.set(e.pointerId, {x: e.clientX, y: e.clientY});
    if (fingers.size === 1 && !e.shiftKey) {
      EYE.turn -= dx * 0.008;
      EYE.tilt = Math.min(1.5, Math.max(-1.2, EYE.tilt + dy * 0.008));
    } else {
      const seen = screenOf(1), step = EYE.away * 0.0009 / Math.max(fingers.size, 1);
      EYE.at = EYE.at.map((v, k) => v - step * dx * seen.right[k] + step * dy * seen.up[k]);
      if (fingers.size === 2) { const now = gap(); EYE.away *= spread / now; spread = now; }
    }
    draw();
  });
  for (const name of ["pointerup", "pointercancel"]) canvas.addEventListener(name, e => {
    const tapped = fingers.size === 1 && travelled < 6 && name === "pointerup";
    fingers.delete(e.pointerId);
    if (tapped) pick(e.clientX, e.clientY);
  });
  canvas.addEventListener("wheel", e => {
    e.preventDefault();
    EYE.away *= Math.exp(e.deltaY * 0.001);
    draw();
  }, {passive: false});
  const tell = () => {
    const t = years(), now = SHOW.load ? "first year" : "now, fully loaded";
    $("year").textContent = t < 0 ? "as framed" : t === 0 ? now : t + " years";
    $("years").disabled = t < 0;
    draw();
  };
  const weather = () => {
    SHOW.load = Number($("load").value);
    const load = DATA.loads[SHOW.load], part = Number($("snow").value);
    $("snow").disabled = !load.is_snow;
    $("deep").textContent = load.is_snow ? (part ? part + " % of the snow" : "no snow yet") : "";
    const some = load.is_snow && part > 0 && part < 100;
    $("laid").textContent = load.words + (some ? " Shaded as when all of it lies." : "");
    for (const m of meshes) lay(gl, m, SHOW.load, part / 100);
    say();
    tell();
  };
  $("weather").hidden = DATA.loads.length < 2;
  DATA.loads.forEach((load, k) => $("load").add(new Option(load.name, k)));
  $("load").addEventListener("input", () => {
    if (DATA.loads[Number($("load").value)].is_snow) $("slope").checked = true;
    weather();
  });
  $("snow").addEventListener("input", weather);
  for (const id of ["years", "bent", "slope"]) $(id).addEventListener("input", tell);
  $("slope").addEventListener("input", () => { near(); draw(); });
  window.addEventListener("resize", resize);
  near();
  resize();
  weather();
  document.body.dataset.ready = "yes";
}
start();
