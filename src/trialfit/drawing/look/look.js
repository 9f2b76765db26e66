// The 3D view of a drivetrain in its car: turns the solids of the page, marks their gaps, and picks one from the list.
//
// Answers   the canvas, the marks over it, the buttons, the list
// Not here  the drawings, which are in the page from the start and stay if the browser has no WebGL (views.py)
// Symbols   lengths in m in the car's axes: x forward, y left, z up
//
// Nothing moves by itself: a frame is drawn only after a change, which saves the battery of a phone.

import {
  AmbientLight, BufferAttribute, BufferGeometry, DirectionalLight, DoubleSide, EdgesGeometry, Group, LineBasicMaterial,
  LineSegments, Matrix4, Mesh, MeshLambertMaterial, PerspectiveCamera, PlaneGeometry, Raycaster, Scene, Sphere, Spherical,
  Vector2, Vector3, WebGLRenderer,
} from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";

const DIRECTIONS = { whole: [0.75, -1, 0.6], side: [0, -1, 0], front: [1, 0, 0], above: [0, 0, 1] };
const TURN = Math.PI / 24;
const STEP = 1.25;
const TAP = 6; // px that a finger may slip during a tap
const STRUCK = 24; // px: least length of a line to strike through if it fails
const LEAST_SIGHT = 0.3; // m shown around a gap
const SVG = "http://www.w3.org/2000/svg";

const page = document.documentElement;
const find = (words) => document.querySelector(words);
const view = find(".view"), canvas = find("canvas"), over = find(".over"), told = find(".told");
const links = [...document.querySelectorAll("[data-gap]")];
const data = JSON.parse(find("#scene").textContent);
let picked = null;
let named = false;

function numbers(text, Kind) {
  return new Kind(Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0)).buffer);
}

// --- the list and the drawings: these work without WebGL too ---

function pick(number) {
  picked = number === picked ? null : number;
  links.forEach((link, n) => (n === picked ? link.setAttribute("aria-current", "true") : link.removeAttribute("aria-current")));
  for (const mark of document.querySelectorAll("[data-mark]")) {
    mark.classList.toggle("picked", Number(mark.dataset.mark) === picked);
  }
  tell(picked === null ? "" : sentence(data.marks[picked]));
}

function sentence(mark) {
  return `${mark.pair}: ${mark.gap}, ${mark.word}${mark.state && Object.keys(mark.moved).length ? ` (shown with ${mark.state})` : ""}`;
}

function tell(text) {
  told.textContent = text || (data.marks.length ? "Drag to turn. Pick a gap from the list." : "Drag to turn.");
}

// --- the solids ---

function build() {
  const scene = new Scene();
  const whole = new Group();
  const bodies = new Map();
  for (const body of data.bodies) {
    const skin = new BufferGeometry();
    skin.setAttribute("position", new BufferAttribute(numbers(body.points, Float32Array), 3));
    skin.setIndex(new BufferAttribute(numbers(body.triangles, Uint32Array), 1));
    const mesh = new Mesh(skin, new MeshLambertMaterial({ color: body.moves ? 0x7c8894 : 0xf4efe2, flatShading: true, transparent: true, side: DoubleSide }));
    const edges = new LineSegments(new EdgesGeometry(skin, 25), new LineBasicMaterial({ color: 0x15181b, transparent: true }));
    mesh.name = body.id;
    mesh.add(edges);
    mesh.matrixAutoUpdate = false;
    skin.computeBoundingBox();
    whole.add(mesh);
    bodies.set(body.id, { ...body, mesh, edges, middle: skin.boundingBox.getCenter(new Vector3()), box: skin.boundingBox });
  }
  scene.add(whole, new AmbientLight(0xffffff, 1.5));
  return { scene, whole, bodies };
}

function ground(scene, sphere) {
  const plane = new PlaneGeometry(sphere.radius * 3, sphere.radius * 2);
  const floor = new Mesh(plane, new MeshLambertMaterial({ color: 0xdfe3e1, transparent: true, opacity: 0.5, depthWrite: false, side: DoubleSide }));
  floor.position.set(sphere.center.x, 0, 0);
  scene.add(floor);
}

function start() {
  const renderer = new WebGLRenderer({ canvas, antialias: true });
  renderer.setClearColor(0xeef1f2);
  renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
  const { scene, whole, bodies } = build();
  const sphere = new Sphere();
  const all = [...bodies.values()].map((body) => body.box).reduce((one, other) => one.union(other), [...bodies.values()][0].box.clone());
  all.getBoundingSphere(sphere);
  ground(scene, sphere);
  const round = sphere.radius * 0.85; // bodies seldom fill the sphere around them
  const camera = new PerspectiveCamera(35, 1, sphere.radius / 50, sphere.radius * 40);
  camera.up.set(0, 0, 1);
  const lamp = new DirectionalLight(0xffffff, 2);
  lamp.position.set(0.4, 0.8, 1);
  camera.add(lamp);
  scene.add(camera);
  const controls = new OrbitControls(camera, canvas);
  controls.enableDamping = false;
  controls.minDistance = 0.05;
  controls.maxDistance = sphere.radius * 12;

  let waits = false;
  const draw = () => {
    waits = false;
    renderer.render(scene, camera);
    marks(camera, bodies);
  };
  const redraw = () => {
    if (!waits) {
      waits = true;
      requestAnimationFrame(draw);
    }
  };

  const reach = (radius) => radius / Math.sin((Math.min(camera.fov, camera.fov * camera.aspect) * Math.PI) / 360);
  const from = (direction, middle, radius) => {
    controls.target.copy(middle);
    camera.position.copy(middle).addScaledVector(direction.clone().normalize(), reach(radius));
    // straight from above, the front points to the right as in the plan
    camera.up.set(0, 0, 1);
    if (Math.abs(direction.clone().normalize().z) > 0.999) camera.position.y -= reach(radius) * 1e-3;
    controls.update();
    redraw();
  };
  const seen = () => camera.position.clone().sub(controls.target);
  const nearer = (share) => {
    const away = seen().divideScalar(share);
    camera.position.copy(controls.target).add(away);
    controls.update();
    redraw();
  };
  const turn = (round, up) => {
    const place = new Spherical().setFromVector3(new Vector3(seen().x, seen().z, -seen().y));
    place.theta += round;
    place.phi = Math.min(Math.max(place.phi + up, 0.01), Math.PI - 0.01);
    const moved = new Vector3().setFromSpherical(place);
    camera.position.copy(controls.target).add(new Vector3(moved.x, -moved.z, moved.y));
    controls.update();
    redraw();
  };
  const fit = () => {
    renderer.setSize(view.clientWidth, view.clientHeight, false);
    camera.aspect = view.clientWidth / Math.max(view.clientHeight, 1);
    camera.updateProjectionMatrix();
    over.setAttribute("viewBox", `0 0 ${view.clientWidth} ${view.clientHeight}`);
    redraw();
  };
  const show = () => {
    const mark = picked === null ? null : data.marks[picked];
    for (const body of bodies.values()) {
      const ours = !mark || mark.bodies.includes(body.id);
      body.mesh.material.opacity = !ours ? 0.07 : body.moves ? 0.95 : mark ? 0.7 : 0.34;
      body.mesh.material.depthWrite = ours && (body.moves || mark !== null);
      body.mesh.renderOrder = body.moves ? 0 : 1;
      body.edges.material.opacity = ours ? 1 : 0.12;
      body.mesh.matrix.copy(mark && mark.moved[body.id] ? new Matrix4().fromArray(mark.moved[body.id]) : new Matrix4());
      body.mesh.matrixWorldNeedsUpdate = true;
    }
    redraw();
  };
  const choose = (number) => {
    pick(number);
    show();
    if (picked === null) return;
    const [a, b] = data.marks[picked].ends.map((end) => new Vector3(...end));
    from(seen(), a.clone().lerp(b, 0.5), Math.max(LEAST_SIGHT, a.distanceTo(b) * 0.8));
  };

  const ways = {
    nearer: () => nearer(STEP),
    farther: () => nearer(1 / STEP),
    names: (button) => {
      named = !named;
      button.setAttribute("aria-pressed", named);
      redraw();
    },
    drawings: (button) => {
      button.setAttribute("aria-pressed", page.classList.toggle("drawn"));
      fit();
    },
  };
  for (const name of Object.keys(DIRECTIONS)) {
    ways[name] = () => {
      if (name === "whole" && picked !== null) { pick(null); show(); }
      from(new Vector3(...DIRECTIONS[name]), name === "whole" || picked === null ? sphere.center : controls.target.clone(), name === "whole" || picked === null ? round : LEAST_SIGHT);
    };
  }
  for (const button of document.querySelectorAll("[data-do]")) {
    button.addEventListener("click", () => ways[button.dataset.do](button));
  }
  links.forEach((link, n) => link.addEventListener("click", (event) => {
    if (page.classList.contains("drawn")) return;
    event.preventDefault();
    choose(n);
    if (picked !== null && matchMedia("(max-width: 799px)").matches) view.scrollIntoView({ block: "start" });
  }));
  canvas.addEventListener("keydown", (event) => {
    const keys = {
      ArrowLeft: () => turn(-TURN, 0), ArrowRight: () => turn(TURN, 0), ArrowUp: () => turn(0, -TURN), ArrowDown: () => turn(0, TURN),
      "+": () => nearer(STEP), "-": () => nearer(1 / STEP), Escape: () => ways.whole(),
    };
    if (keys[event.key]) {
      event.preventDefault();
      keys[event.key]();
    }
  });
  taps((x, y) => {
    const ray = new Raycaster();
    ray.setFromCamera(new Vector2((x / view.clientWidth) * 2 - 1, 1 - (y / view.clientHeight) * 2), camera);
    const hit = ray.intersectObjects(whole.children, false).find((one) => one.object.material.opacity > 0.1);
    if (!hit) return;
    const nearest = data.marks.find((mark) => mark.bodies.includes(hit.object.name));
    const name = bodies.get(hit.object.name).name;
    tell(nearest ? `${name}; its tightest gap: ${sentence({ ...nearest, state: "" })}` : `${name}: none of its gaps is listed`);
  });
  canvas.addEventListener("webglcontextlost", () => plain("The browser has stopped the 3D view: side view and plan instead."));
  controls.addEventListener("change", redraw);

  page.classList.add("live");
  named = view.clientWidth >= 700 && bodies.size <= 16;
  find('[data-do="names"]').setAttribute("aria-pressed", named);
  new ResizeObserver(fit).observe(view);
  tell("");
  fit();
  show();
  from(new Vector3(...DIRECTIONS.whole), sphere.center, round);
  draw();
}

function taps(then) {
  let down = null;
  canvas.addEventListener("pointerdown", (event) => { down = event.isPrimary ? [event.clientX, event.clientY] : null; });
  canvas.addEventListener("pointerup", (event) => {
    if (!down || Math.hypot(event.clientX - down[0], event.clientY - down[1]) > TAP) return;
    const frame = canvas.getBoundingClientRect();
    then(event.clientX - frame.left, event.clientY - frame.top);
  });
}

// --- the marks over the canvas: always on top, of constant width, told apart by line and word ---

function marks(camera, bodies) {
  over.textContent = "";
  const width = view.clientWidth, height = view.clientHeight;
  const flat = (point) => {
    const at = point.clone().project(camera);
    return { x: ((at.x + 1) / 2) * width, y: ((1 - at.y) / 2) * height, seen: at.z < 1 };
  };
  if (named) {
    for (const body of bodies.values()) {
      if (picked !== null && !data.marks[picked].bodies.includes(body.id)) continue;
      const at = flat(body.middle.clone().applyMatrix4(body.mesh.matrix));
      if (at.seen) element("text", { class: "name", x: at.x, y: at.y }, body.name);
    }
  }
  const taken = [];
  data.marks.forEach((mark, n) => {
    if (picked !== null && n !== picked) return;
    const [a, b] = mark.ends.map((end) => flat(new Vector3(...end)));
    if (a.seen && b.seen) gapLine(mark, n, a, b, taken);
  });
}

function gapLine(mark, n, a, b, taken) {
  const ends = { x1: a.x, y1: a.y, x2: b.x, y2: b.y };
  element("line", { class: "halo", ...ends });
  element("line", { class: "gap", ...ends, "stroke-dasharray": mark.dashes });
  for (const end of [a, b]) element("circle", { class: "end", cx: end.x, cy: end.y, r: 3.5 });
  const x = (a.x + b.x) / 2, y = (a.y + b.y) / 2;
  if (mark.fails && Math.hypot(a.x - b.x, a.y - b.y) > STRUCK) element("path", { class: "strike", d: `M${x - 5} ${y - 5}l10 10m0 -10l-10 10` });
  const place = free(x, y, taken);
  if (place.far) element("line", { class: "lead", x1: x, y1: y, x2: place.x, y2: place.y, stroke: "#000" });
  const kind = mark.fails ? "fails" : "stands";
  element("circle", { class: `badge ${kind}`, cx: place.x, cy: place.y, r: 12 });
  element("text", { class: `number ${kind}`, x: place.x, y: place.y + 4.5 }, n + 1);
  if (n === picked) {
    const wide = view.clientWidth;
    const at = Math.min(Math.max(place.x, wide * 0.3), wide * 0.7);
    element("text", { class: "tag", x: at, y: place.y - 20 }, `${mark.gap}, ${mark.word}`);
  }
}

// A place for a number just above its line, or beside the numbers already there.
function free(x, y, taken) {
  const places = [[0, -22], [0, 22], [26, -22], [-26, -22], [26, 22], [-26, 22], [0, -48], [0, 48], [52, -22], [-52, -22], [52, 22], [-52, 22], [26, -48], [-26, -48]];
  const spot = places.map(([right, down]) => ({ x: x + right, y: y + down, far: true }))
    .find((one) => taken.every((other) => Math.hypot(one.x - other.x, one.y - other.y) > 25)) || { x, y: y - 22 };
  taken.push(spot);
  return spot;
}

function element(name, settings, text) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(settings)) if (value !== "") made.setAttribute(key, value);
  if (text !== undefined) made.textContent = text;
  over.append(made);
}

// --- if the browser draws no 3D ---

function plain(why) {
  page.classList.remove("live", "drawn");
  const line = find(".why");
  line.textContent = why;
  line.hidden = false;
}

links.forEach((link, n) => link.addEventListener("click", () => {
  if (!page.classList.contains("live") || page.classList.contains("drawn")) pick(n);
}));
if (data.bodies.length) {
  try {
    start();
  } catch {
    plain("This browser draws no 3D (WebGL is off): side view and plan instead.");
  }
}
