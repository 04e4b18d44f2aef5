// The parts in three dimensions, with the field on a plane, the steel coloured by how full it is, and the surface of a stray limit.
// World axes as in the design file, z up; millimetres. Light is worked into the colours when bodies are laid, for it never moves with them: all
// bodies are one mesh, all edges another, and a frame costs three or four draws of plain colour. A frame is drawn only when something has changed.
import {
  Box3, BufferAttribute, BufferGeometry, ClampToEdgeWrapping, Color, ColorManagement, DataTexture, DataUtils, DoubleSide, EdgesGeometry, ExtrudeGeometry, Group,
  HalfFloatType, LinearFilter, LinearSRGBColorSpace, LineSegments, Matrix4, Mesh, NoBlending, NormalBlending, OrthographicCamera, PerspectiveCamera, Plane, PlaneGeometry, Points, Raycaster, RedFormat, RGBAFormat, Scene,
  ShaderMaterial, Shape, UnsignedByteType, Vector2, Vector3, Vector4, WebGLRenderer, WebGLRenderTarget, type Object3D,
} from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";
import type { Schemas } from "./ask";
import { colourAt, flowLines, sizes } from "./lattice";

type Point = [number, number, number];
ColorManagement.enabled = false; // colours go to the screen as they are written
const mm = 1e3;
const colours: Record<string, [light: string, dark: string]> = {
  magnet: ["#c8663b", "#d9794e"], steel: ["#74828f", "#8796a3"], wound: ["#a5852f", "#c09a35"], spacer: ["#b3c6bf", "#5f766e"], coil: ["#8f5a9c", "#b07fbd"],
};

export interface Seen {
  cut: { axis: number; at: number } | null; // what lies beyond, on the positive side, is taken away; m
  hidden: ReadonlySet<string>;
  picked: string | null;
  map: Schemas["Map"] | null;
  mapTop: number; // T at the end of the colours
  lines: boolean;
  flow: "none" | "arrows" | "lines";
  steel: Schemas["Steels"] | null;
  fence: Schemas["Fence"] | null;
  stale: boolean;
  rules: [Point, Point][]; // dimension lines, m
  gap: [Point, Point] | null; // the box of the gap, to be picked
  marks: Mark[] | null;
}

// A Mark is a place with a value, of a size on the screen whatever its distance. Parts do not hide it.
export interface Mark {
  at: Point; // m
  colour: number[]; // red, green, blue of 255
  radius: number; // px
  round: boolean; // or square
  ringed: boolean; // it is to be looked at
  faded: boolean;
}

export interface Reading {
  mark?: number; // under the pointer, by its number; the rest but x and y says nothing then
  b: number;
  share?: number; // of saturation
  of?: string; // the part
  x: number;
  y: number;
  place: Point;
}

export class View {
  readonly canvas: HTMLCanvasElement;
  frames = 0; // drawn so far, for measurements
  onPick: (name: string | null, gap: boolean) => void = () => {};
  onHover: (at: Reading | null) => void = () => {};
  onFrame: () => void = () => {};

  private renderer: WebGLRenderer;
  private scene = new Scene();
  private still = new WebGLRenderTarget(1, 1, { samples: 4 }); // the view at rest
  private copy = new Scene(); // takes it to the screen
  private map: { plane: Mesh; exact: ShaderMaterial; columns: number; rows: number; baked: boolean } | null = null;
  private bakedMap = new WebGLRenderTarget(1, 1, { depthBuffer: false });
  private coarse = new ShaderMaterial({ // the baked map
    side: DoubleSide, transparent: true, uniforms: { map: { value: this.bakedMap.texture } },
    vertexShader: "varying vec2 at; void main() { at = uv; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }",
    fragmentShader: "uniform sampler2D map; varying vec2 at; void main() { gl_FragColor = texture2D(map, at); }",
  });
  private camera = new PerspectiveCamera(35, 1, 1, 1e6);
  private controls: OrbitControls;
  private laid = { parts: new Group(), map: new Group(), outlines: new Group(), fence: new Group(), rules: new Group(), marks: new Group() };
  private ratio = { value: 1 }; // points of the canvas a pixel of the page
  private fade = { value: 1 }; // of the map, when it is of an earlier design
  private clip = { value: new Vector4(0, 0, 0, 1) }; // what is seen has a distance from this plane of zero or more
  private bodies: Body[] = [];
  private region: number[] = [];
  private anew = false; // whether there are other parts than those that were shown
  private faces: Mesh | null = null;
  private ranges: { name: string; end: number; steel: Schemas["SteelBody"] | null }[] = []; // of the faces' triangles
  private palette: DataTexture;
  private wanted = false;
  private box = new Box3(new Vector3(-50, -50, -50), new Vector3(50, 50, 50));
  private seen: Seen | null = null;
  private dark = false;
  private gone = new AbortController();

  constructor(private host: HTMLElement, private colours: number[][]) {
    this.renderer = new WebGLRenderer({ antialias: false, alpha: false });
    this.renderer.outputColorSpace = LinearSRGBColorSpace;
    if (drawnBySoftware(this.renderer.getContext())) this.sharpness = 0.5; // to begin with
    this.canvas = this.renderer.domElement;
    host.prepend(this.canvas);
    this.canvas.tabIndex = 0;
    this.canvas.setAttribute("role", "img");
    this.camera.up.set(0, 0, 1);
    this.controls = new OrbitControls(this.camera, this.canvas);
    this.controls.addEventListener("change", () => this.draw(true));
    this.scene.add(...Object.values(this.laid));
    this.copy.add(new Mesh(new PlaneGeometry(2, 2), new ShaderMaterial({
      depthTest: false, depthWrite: false, uniforms: { still: { value: this.still.texture } },
      vertexShader: "varying vec2 at; void main() { at = uv; gl_Position = vec4(position.xy, 0.0, 1.0); }",
      fragmentShader: "uniform sampler2D still; varying vec2 at; void main() { gl_FragColor = vec4(texture2D(still, at).rgb, 1.0); }",
    })));
    this.copy.children[0]!.frustumCulled = false;
    this.scene.matrixWorldAutoUpdate = false; // everything is laid in the world as it stands
    const bytes = new Uint8Array(colours.length * 4);
    colours.forEach((c, i) => bytes.set([c[0]!, c[1]!, c[2]!, 255], 4 * i));
    this.palette = new DataTexture(bytes, colours.length, 1, RGBAFormat, UnsignedByteType);
    this.palette.magFilter = this.palette.minFilter = LinearFilter;
    this.palette.needsUpdate = true;
    const seenSize = new ResizeObserver(() => this.resize());
    seenSize.observe(host);
    const scheme = matchMedia("(prefers-color-scheme: dark)");
    const tone = () => {
      this.dark = scheme.matches;
      this.renderer.setClearColor(this.dark ? "#14181d" : "#f7f6f3");
    };
    tone();
    const on = { signal: this.gone.signal };
    scheme.addEventListener("change", () => {
      tone();
      const s = this.seen;
      this.seen = null;
      if (s) this.show(s);
    }, on);
    this.gone.signal.addEventListener("abort", () => seenSize.disconnect());
    this.listen(on);
    this.resize();
    this.look([1, -0.75, 0.55]);
  }

  private listen(on: { signal: AbortSignal }) {
    let down = new Vector2();
    this.canvas.addEventListener("pointerdown", (e) => (down = new Vector2(e.clientX, e.clientY)), on);
    this.canvas.addEventListener("pointerup", (e) => {
      if (down.distanceTo(new Vector2(e.clientX, e.clientY)) > 4 || e.button !== 0) return; // a turn, not a pick
      const ray = this.ray(e), hit = this.body(ray);
      const g = this.seen?.gap;
      const inGap = g && ray.ray.intersectBox(new Box3(vec(g[0]), vec(g[1])), new Vector3());
      if (inGap && (!hit || inGap.distanceTo(ray.ray.origin) < hit.distance)) this.onPick(null, true);
      else this.onPick(hit?.name ?? null, false);
    }, on);
    this.canvas.addEventListener("pointermove", (e) => this.onHover(e.buttons === 0 ? this.reading(e) : null), on);
    this.canvas.addEventListener("pointerleave", () => this.onHover(null), on);
    this.canvas.addEventListener("keydown", (e) => {
      const turn = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
      if (turn) {
        e.preventDefault();
        this.turn(turn[0]! * 0.1, turn[1]! * 0.1);
      } else if (e.key === "+" || e.key === "-") this.zoom(e.key === "+" ? 0.9 : 1 / 0.9);
    }, on);
  }

  private ray(e: PointerEvent): Raycaster {
    const f = this.canvas.getBoundingClientRect();
    const ray = new Raycaster();
    ray.setFromCamera(new Vector2((2 * (e.clientX - f.left)) / f.width - 1, 1 - (2 * (e.clientY - f.top)) / f.height), this.camera);
    return ray;
  }

  // body is the first body that a ray meets.
  private body(ray: Raycaster) {
    if (!this.faces) return null;
    const c = this.clip.value, n = new Vector3(c.x, c.y, c.z);
    const hit = ray.intersectObject(this.faces).find((h) => n.dot(h.point) + c.w >= 0);
    const range = hit && this.ranges.find((r) => hit.faceIndex! < r.end);
    return hit && range ? { ...range, distance: hit.distance, point: hit.point, face: hit.faceIndex! } : null;
  }

  // reading is the value under the pointer: on coloured steel, or on the plane where it is nearer.
  private reading(e: PointerEvent): Reading | null {
    const ray = this.ray(e), s = this.seen, frame = this.canvas.getBoundingClientRect();
    const at = { x: e.clientX - frame.left, y: e.clientY - frame.top };
    // Of marks over one another the last is seen.
    const mark = s?.marks?.findLastIndex((q) => {
      const p = this.project(q.at);
      return p !== null && Math.hypot(p.x - at.x, p.y - at.y) < q.radius + 2;
    });
    if (mark !== undefined && mark >= 0) return { ...at, mark, b: 0, place: s!.marks![mark]!.at };
    const m = s?.map;
    const onPlane = m && ray.ray.intersectPlane(new Plane(axisVector(m.plane.axis), -m.plane.at_m * mm), new Vector3());
    const hit = s?.steel ? this.body(ray) : null;
    if (hit?.steel && (!onPlane || hit.distance < onPlane.distanceTo(ray.ray.origin))) {
      const first = this.ranges[this.ranges.findIndex((r) => r.name === hit.name) - 1]?.end ?? 0;
      const t = hit.steel.triangles[hit.face - first]!;
      const far = (k: number) => Math.hypot(hit.steel!.corners_mm[3 * k]! - hit.point.x, hit.steel!.corners_mm[3 * k + 1]! - hit.point.y, hit.steel!.corners_mm[3 * k + 2]! - hit.point.z);
      const k = t.reduce((a, b) => (far(b) < far(a) ? b : a));
      const b = hit.steel.b_T[k]!;
      return { ...at, b, share: b / hit.steel.saturation_T, of: hit.name, place: [0, 1, 2].map((i) => hit.steel!.corners_mm[3 * k + i]! / mm) as Point };
    }
    if (!onPlane) return null;
    const p = [onPlane.x / mm, onPlane.y / mm, onPlane.z / mm] as Point;
    const i = Math.round((p[m!.across]! - m!.corner_m[0]!) / m!.step_m), j = Math.round((p[m!.up]! - m!.corner_m[1]!) / m!.step_m);
    if (i < 0 || j < 0 || i >= m!.columns || j >= m!.rows) return null;
    const k = 3 * (j * m!.columns + i);
    p[m!.plane.axis] = m!.plane.at_m;
    p[m!.across] = m!.corner_m[0]! + i * m!.step_m;
    p[m!.up] = m!.corner_m[1]! + j * m!.step_m;
    return { ...at, b: Math.hypot(m!.b_T[k]!, m!.b_T[k + 1]!, m!.b_T[k + 2]!), place: p };
  }

  // project says where a place (m) is on the screen, px from the canvas' corner; null behind the eye.
  project(p: Point): { x: number; y: number } | null {
    const v = vec(p).project(this.camera);
    return v.z > 1 ? null : { x: ((v.x + 1) / 2) * this.host.clientWidth, y: ((1 - v.y) / 2) * this.host.clientHeight };
  }

  // turn moves the eye round the middle, radians.
  turn(azimuth: number, height: number) {
    const at = this.controls.target;
    const d = this.camera.position.sub(at);
    const r = d.length();
    const theta = Math.atan2(d.y, d.x) + azimuth;
    const phi = Math.min(1.55, Math.max(-1.55, Math.asin(d.z / r) + height));
    this.camera.position.set(at.x + r * Math.cos(phi) * Math.cos(theta), at.y + r * Math.cos(phi) * Math.sin(theta), at.z + r * Math.sin(phi));
    this.controls.update();
    this.draw(true);
  }

  zoom(by: number) {
    const at = this.controls.target;
    this.camera.position.sub(at).multiplyScalar(by).add(at);
    this.controls.update();
    this.draw(true);
  }

  // look shows everything from a direction.
  look(from: Point) {
    const middle = this.box.getCenter(new Vector3());
    const radius = Math.max(1, this.box.getSize(new Vector3()).length() / 2);
    const half = (this.camera.fov * Math.PI) / 360;
    const far = (radius * 1.12) / Math.sin(Math.atan(Math.tan(half) * Math.min(1, this.camera.aspect)));
    this.controls.target.copy(middle);
    this.camera.position.copy(middle).add(new Vector3(...from).normalize().multiplyScalar(far));
    this.camera.near = far / 200;
    this.camera.far = far * 40;
    this.camera.updateProjectionMatrix();
    this.controls.update();
    this.draw(false);
  }

  private resize() {
    const w = Math.max(1, this.host.clientWidth), h = Math.max(1, this.host.clientHeight);
    this.renderer.setPixelRatio((this.ratio.value = Math.min(2, devicePixelRatio) * this.shown));
    this.renderer.setSize(w, h);
    this.camera.aspect = w / h;
    this.camera.updateProjectionMatrix();
    this.draw(false);
  }

  private sharpness = 1; // share of the screen's points while it moves
  private shown = 1; // share that the canvas has now
  private drawn = 0;
  private moving = false;
  private count = 0; // of the frames at this sharpness
  private good = 0; // times that frames have kept up since
  private tried = false; // whether this sharpness is a try
  private patience = 2; // times to wait before the next
  private since = 0;
  private run = 0; // frames at whatever sharpness, up to 64
  private missed = 0; // of these, those that came late
  private rest: ReturnType<typeof setTimeout> | undefined;

  // draw asks for a frame. While the view moves, a slow machine gets fewer points; at rest it gets them all. Points are changed seldom, for a
  // canvas of another size costs more than a frame.
  private draw(moving: boolean) {
    clearTimeout(this.rest);
    this.moving ||= moving;
    if (this.wanted) return;
    this.wanted = true;
    requestAnimationFrame((now) => {
      this.wanted = false;
      if (this.gone.signal.aborted) return;
      this.frames++;
      if (this.moving && now - this.drawn < 1000) this.pace(now);
      else this.count = 0;
      this.drawn = now;
      this.showMap(this.moving && this.sharpness < 1);
      this.moving = false;
      this.camera.updateMatrixWorld();
      this.renderer.render(this.scene, this.camera);
      this.onFrame();
      this.rest = setTimeout(() => this.renderSmooth(), 250);
    });
  }

  // wait puts off what makes a view at rest sharp, until it is drawn again.
  wait() {
    clearTimeout(this.rest);
  }

  // renderSmooth is for a view at rest: with all points, and edges smoothed, which at each frame of a movement would cost a slow machine half its
  // frames.
  private renderSmooth() {
    this.sharpen(1);
    this.showMap(false);
    this.frames++;
    const size = this.renderer.getDrawingBufferSize(new Vector2());
    if (size.x * size.y > 5e6) return this.renderer.render(this.scene, this.camera); // too much memory, and so fine that edges hardly show
    if (this.still.width !== size.x || this.still.height !== size.y) this.still.setSize(size.x, size.y);
    this.renderer.setRenderTarget(this.still);
    this.renderer.render(this.scene, this.camera);
    this.renderer.setRenderTarget(null);
    this.renderer.render(this.copy, this.camera);
    if (this.sharpness < 1) this.bakeMap(); // for when it moves
  }

  // showMap shows the map in full, or as it was once drawn flat: a slow machine would take half of each frame to work its colours out anew.
  private showMap(coarse: boolean) {
    if (!this.map) return;
    if (coarse) this.bakeMap();
    this.map.plane.material = coarse ? this.coarse : this.map.exact;
  }

  private bakeMap() {
    const m = this.map;
    if (!m || m.baked) return;
    m.baked = true;
    const flat = new Mesh(new PlaneGeometry(2, 2), m.exact), fine = 6; // points a cell
    this.bakedMap.setSize(fine * m.columns, fine * m.rows);
    m.exact.blending = NoBlending;
    this.renderer.setRenderTarget(this.bakedMap);
    this.renderer.render(flat, new OrthographicCamera(-1, 1, 1, -1, -1, 1));
    this.renderer.setRenderTarget(null);
    m.exact.blending = NormalBlending;
    flat.geometry.dispose();
  }

  // pace takes fewer points when eight frames took longer than those of a screen, by how much they did, or when three of 64 came late, and tries more
  // when frames keep up; after a try that was too much it waits eight times as long, at most 64 times eight frames. The first two frames of a
  // movement are no measure.
  private pace(now: number) {
    if (this.count++ < 2) {
      this.since = now;
      this.sharpen(this.sharpness);
      return;
    }
    const frames = this.count - 2, spent = now - this.since, mean = spent / frames;
    if (now - this.drawn > 25) this.missed++;
    if (++this.run > 64) this.run = this.missed = 0;
    const often = this.missed > 2;
    if (!often && frames < 8 && (frames < 3 || spent < 8 * 20)) return;
    const late = often || mean > 20;
    if (late) {
      if (often || this.tried) this.patience = Math.min(64, 8 * this.patience);
      this.sharpness = Math.max(0.4, Math.min(0.85, Math.sqrt(1000 / 60 / mean)) * this.sharpness);
      this.run = this.missed = 0;
    }
    this.tried = mean < 18 && this.sharpness < 1 && ++this.good >= this.patience;
    if (this.tried) this.sharpness = Math.min(1, 1.25 * this.sharpness);
    if (this.tried || late) this.good = 0;
    this.count = 1;
  }

  // sharpen gives the canvas so many points. Fewer ones are stretched without smoothing: without a graphics card that smoothing alone takes longer
  // than most of what is drawn.
  private sharpen(to: number) {
    if (to === this.shown) return;
    this.shown = to;
    this.renderer.setPixelRatio((this.ratio.value = Math.min(2, devicePixelRatio) * to));
    this.canvas.style.imageRendering = to < 1 ? "pixelated" : "";
  }

  // build takes the parts of a design. The view stays where it is unless the design is another.
  build(l: Schemas["Look"], anew: boolean) {
    const meshes = l.meshes.map((m) => {
      const g = new BufferGeometry();
      g.setAttribute("position", new BufferAttribute(new Float32Array(m.corners_mm), 3));
      return { corners: g.getAttribute("position"), rims: new EdgesGeometry(g, 25).getAttribute("position") };
    });
    this.bodies = l.parts.filter((p) => p.mesh >= 0).map((p) => {
      const r = p.rotation, c = p.center_m, mesh = meshes[p.mesh]!;
      const place = new Matrix4().set(r[0]![0]!, r[0]![1]!, r[0]![2]!, c[0]! * mm, r[1]![0]!, r[1]![1]!, r[1]![2]!, c[1]! * mm, r[2]![0]!, r[2]![1]!, r[2]![2]!, c[2]! * mm, 0, 0, 0, 1);
      const put = (a: typeof mesh.corners) => a.clone().applyMatrix4(place).array as Float32Array;
      return { name: p.name, kind: p.kind, corners: put(mesh.corners), rims: put(mesh.rims), pole: p.magnetized ? pole(p) : [] };
    });
    if (l.box) this.box = new Box3(vec(l.box.min_m as Point), vec(l.box.max_m as Point));
    if (anew) this.look([1, -0.75, 0.55]);
    this.region = l.region ? outline(l.region) : [];
    this.anew = true;
    if (this.seen) this.show(this.seen);
  }

  show(s: Seen) {
    const was = this.seen;
    const other = (...keys: (keyof Seen)[]) => !was || keys.some((k) => was[k] !== s[k]);
    this.seen = s;
    const c = this.clip.value.set(0, 0, 0, 1);
    if (s.cut) c.setComponent(s.cut.axis, -1).setW(s.cut.at * mm + 1e-3);
    const newParts = this.anew || other("hidden", "picked", "steel") || (!!s.steel && other("stale"));
    this.anew = false;
    if (newParts) this.layParts(s);
    this.fade.value = s.stale ? 0.35 : 1;
    if (this.map && other("stale")) this.map.baked = false;
    if (other("map", "mapTop", "lines", "flow")) {
      this.showMap(false); // so that all of it goes
      clear(this.laid.map);
      this.map = null;
      if (s.map) this.layMap(s.map, s);
    }
    if (newParts || other("map")) {
      clear(this.laid.outlines);
      const lines = new Soup(), white = new Color("#ffffff");
      if (s.map) for (const b of this.bodies) if (!s.hidden.has(b.name)) lines.add(section(b.corners, s.map.plane.axis, s.map.plane.at_m * mm, 0.05), white);
      if (s.map) this.laid.outlines.add(still(lines.segments(open)));
    }
    if (other("fence")) {
      clear(this.laid.fence);
      if (s.fence) this.layFence(s.fence, !!was);
    }
    if (other("rules")) {
      clear(this.laid.rules);
      const lines = new Soup();
      const tint = new Color(this.dark ? "#9cc7ff" : "#0b3d91");
      for (const [a, b] of s.rules) lines.add([...a, ...b].map((x) => x * mm), tint);
      if (s.rules.length) this.laid.rules.add(still(lines.segments(this.clip, { depthTest: false, order: 3 })));
    }
    if (other("marks")) {
      clear(this.laid.marks);
      if (s.marks?.length) this.laid.marks.add(this.dots(s.marks));
    }
    this.draw(false);
  }

  private dots(marks: Mark[]): Points {
    const g = new BufferGeometry();
    g.setAttribute("position", new BufferAttribute(new Float32Array(marks.flatMap((m) => m.at.map((x) => x * mm))), 3));
    g.setAttribute("tint", new BufferAttribute(new Uint8Array(marks.flatMap((m) => m.colour)), 3, true));
    g.setAttribute("kind", new BufferAttribute(new Float32Array(marks.flatMap((m) => [2 * m.radius, +m.round, +m.ringed])), 3));
    const points = new Points(g, new ShaderMaterial({
      depthTest: false, transparent: true, uniforms: { ratio: this.ratio, alpha: { value: marks[0]!.faded ? 0.4 : 1 }, rim: { value: new Color(this.dark ? "#0d1116" : "#20262c") }, ring: { value: new Color(this.dark ? "#ff9b8f" : "#a31515") } },
      vertexShader: "attribute vec3 tint, kind; uniform float ratio; varying vec3 c, k; void main() { c = tint; k = kind; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); gl_PointSize = (kind.x + 2.0) * ratio; }",
      fragmentShader: `uniform float alpha; uniform vec3 rim, ring; varying vec3 c, k;
        void main() { vec2 p = abs(2.0 * gl_PointCoord - 1.0); float far = k.y > 0.5 ? length(p) : max(p.x, p.y) / 0.9; if (far > 1.0) discard;
          gl_FragColor = vec4((1.0 - far) * (k.x + 2.0) < (k.z > 0.5 ? 6.0 : 3.0) ? (k.z > 0.5 ? ring : rim) : c, alpha); }`,
    }));
    points.renderOrder = 4;
    return still(points);
  }

  // layParts makes one mesh of all bodies, one of their edges and one of the arrows towards the north poles.
  private layParts(s: Seen) {
    clear(this.laid.parts);
    const full = new Map(s.steel?.bodies.map((b) => [b.name, b]));
    const faces = new Soup(), rims = new Soup(), poles = new Soup();
    const base = new Color(), tint = new Color();
    const blue = new Color(this.dark ? "#5b9be0" : "#2f6fc0"), pale = new Color(this.dark ? "#20262c" : "#eeeeee");
    this.ranges = [];
    for (const b of this.bodies) {
      if (s.hidden.has(b.name)) continue;
      const picked = b.name === s.picked;
      const steel = full.get(b.name) ?? null;
      if (steel) {
        const t = steel.triangles, corner = new Vector3(), n = new Vector3(), e = new Vector3();
        const at = (k: number, v: Vector3) => v.fromArray(steel.corners_mm, 3 * k);
        for (const [i, j, k] of t as Point[]) {
          at(i, corner);
          const light = lit(n.copy(at(j, n)).sub(corner).cross(at(k, e).sub(corner)).normalize());
          for (const v of [i, j, k]) {
            const [red, green, blue] = colourAt(this.colours, steel.b_T[v]! / steel.saturation_T);
            tint.setRGB(red / 255, green / 255, blue / 255).multiplyScalar(0.75 + 0.25 * light);
            if (s.stale) tint.lerp(pale, 0.6);
            faces.add(steel.corners_mm.slice(3 * v, 3 * v + 3), tint);
          }
        }
      } else {
        base.setStyle((colours[b.kind] ?? colours["steel"]!)[this.dark ? 1 : 0]);
        if (picked) base.lerp(blue, 0.55);
        const p = new Vector3(), q = new Vector3(), r = new Vector3();
        for (let i = 0; i < b.corners.length; i += 9) {
          p.fromArray(b.corners, i);
          q.fromArray(b.corners, i + 3).sub(p);
          r.fromArray(b.corners, i + 6).sub(p);
          tint.copy(base).multiplyScalar(lit(q.cross(r).normalize()));
          for (let k = 0; k < 9; k += 3) faces.add(b.corners.subarray(i + k, i + k + 3), tint);
        }
      }
      this.ranges.push({ name: b.name, end: faces.length / 3, steel });
      rims.add(b.rims, tint.setStyle(picked ? (this.dark ? "#9cc7ff" : "#0b3d91") : this.dark ? "#0d1116" : "#20262c"));
      poles.add(b.pole, tint.setStyle("#fff3d6"));
    }
    rims.add(this.region, tint.setStyle(this.dark ? "#f2a3cd" : "#8a1f5c"));
    this.faces = still(faces.mesh(this.clip));
    this.laid.parts.add(this.faces, still(rims.segments(this.clip)), still(poles.segments(this.clip, { depthTest: false, order: 2 })));
  }

  private layMap(m: Schemas["Map"], s: Seen) {
    const values = Uint16Array.from(sizes(m), DataUtils.toHalfFloat);
    const field = new DataTexture(values, m.columns, m.rows, RedFormat, HalfFloatType);
    field.magFilter = field.minFilter = LinearFilter;
    field.wrapS = field.wrapT = ClampToEdgeWrapping;
    field.needsUpdate = true;
    const w = (m.columns - 1) * m.step_m * mm, h = (m.rows - 1) * m.step_m * mm;
    const material = new ShaderMaterial({
      side: DoubleSide,
      transparent: true, // where there is hardly any field
      uniforms: {
        field: { value: field }, palette: { value: this.palette }, top: { value: s.mapTop }, lines: { value: s.lines ? 10 : 0 },
        size: { value: new Vector2(m.columns, m.rows) }, fade: this.fade, dark: { value: this.dark ? 1 : 0 },
      },
      vertexShader: "varying vec2 at; void main() { at = uv; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }",
      fragmentShader: `
        uniform sampler2D field, palette; uniform float top, lines, fade, dark; uniform vec2 size; varying vec2 at;
        void main() {
          float t = texture2D(field, (at * (size - 1.0) + 0.5) / size).r / top;
          vec3 c = texture2D(palette, vec2(clamp(t, 0.0, 1.0) * 63.0 / 64.0 + 0.5 / 64.0, 0.5)).rgb;
          float k = t * lines, w = fwidth(k);
          float line = lines > 0.0 && t < 1.02 ? 1.0 - smoothstep(0.35 * w, 1.1 * w, abs(fract(k - 0.5) - 0.5)) : 0.0;
          c = mix(c, t > 0.6 ? vec3(0.0) : vec3(1.0), line * 0.75 * step(w, 0.3));
          gl_FragColor = vec4(mix(dark > 0.5 ? vec3(0.1) : vec3(0.95), c, fade), mix(0.12, 1.0, smoothstep(0.0, 0.03, t)));
        }`,
    });
    const plane = new Mesh(new PlaneGeometry(w, h), material);
    this.map = { plane, exact: material, columns: m.columns, rows: m.rows, baked: false };
    const o = new Vector3();
    o.setComponent(m.plane.axis, m.plane.at_m * mm);
    o.setComponent(m.across, m.corner_m[0]! * mm + w / 2);
    o.setComponent(m.up, m.corner_m[1]! * mm + h / 2);
    const u = axisVector(m.across), v = axisVector(m.up);
    plane.applyMatrix4(new Matrix4().makeBasis(u, v, u.clone().cross(v)).setPosition(o));
    const lines = new Soup(), white = new Color("#ffffff");
    if (s.flow !== "none") {
      const soft = new Color(this.dark ? "#c9d1d8" : "#39424b");
      for (const l of s.flow === "lines" ? flowLines(m) : arrows(m)) {
        const strong = l.b > 0.05 * s.mapTop;
        const p: number[] = [];
        for (const [x, y] of l.segments) {
          const q = [0, 0, 0];
          q[m.plane.axis] = m.plane.at_m * mm + 0.15;
          q[m.across] = (m.corner_m[0]! + x * m.step_m) * mm;
          q[m.up] = (m.corner_m[1]! + y * m.step_m) * mm;
          p.push(...q);
        }
        lines.add(p, strong ? white : soft);
      }
    }
    this.laid.map.add(still(plane));
    if (lines.length) this.laid.map.add(still(lines.segments(open)));
  }

  // layFence draws the surface of a limit, densest where it is seen edge on, its sections by the planes of the axes, and a hand and a spanner of
  // 150 mm lying under it for scale.
  private layFence(f: Schemas["Fence"], move: boolean) {
    const g = new BufferGeometry();
    g.setAttribute("position", new BufferAttribute(new Float32Array(f.points_m.flat().map((x) => x * mm)), 3));
    g.setIndex(f.triangles.flat());
    g.computeVertexNormals();
    const tint = new Color().setStyle(this.dark ? "#7db4f0" : "#1f5fa8");
    const material = new ShaderMaterial({
      transparent: true, depthWrite: false, side: DoubleSide, uniforms: { tint: { value: tint } },
      vertexShader: "varying vec3 n, e; void main() { vec4 p = modelViewMatrix * vec4(position, 1.0); n = normalMatrix * normal; e = p.xyz; gl_Position = projectionMatrix * p; }",
      fragmentShader: "uniform vec3 tint; varying vec3 n, e; void main() { float k = 1.0 - abs(dot(normalize(n), normalize(e))); gl_FragColor = vec4(tint, 0.07 + 0.4 * k * k); }",
    });
    const surface = still(new Mesh(g, material));
    surface.renderOrder = 1;
    const rings = new Soup(), corners = g.toNonIndexed().getAttribute("position").array as Float32Array;
    for (const axis of [0, 1, 2]) rings.add(section(corners, axis, f.center_m[axis]! * mm, 0), tint);
    const scale = new Soup();
    const lay = (s: Shape, x: number, y: number, thick: number, colour: string) => {
      const body = new ExtrudeGeometry(s, { depth: thick, bevelEnabled: false, curveSegments: 8 }).translate(x, y, this.box.min.z);
      const flat = body.index ? body.toNonIndexed() : body;
      const p = flat.getAttribute("position").array as Float32Array, n = flat.getAttribute("normal").array as Float32Array;
      const base = new Color().setStyle(colour), shade = new Color(), v = new Vector3();
      for (let i = 0; i < p.length; i += 3) scale.add(p.subarray(i, i + 3), shade.copy(base).multiplyScalar(lit(v.fromArray(n, i))));
    };
    const right = this.box.max.x + 30;
    lay(hand(), right, -95, 22, this.dark ? "#d8b49a" : "#dcae8e");
    lay(spanner(), right + 120, -75, 6, this.dark ? "#aab4bd" : "#8b97a2");
    this.laid.fence.add(surface, still(rings.segments(open)), still(scale.mesh(open)));
    if (!move) return;
    const size = new Box3().setFromObject(this.laid.fence).getSize(new Vector3()).length();
    const away = this.camera.position.distanceTo(this.controls.target);
    if (size > away) this.zoom((1.6 * size) / away);
    this.camera.far = Math.max(this.camera.far, 40 * size);
    this.camera.updateProjectionMatrix();
  }

  end() {
    this.gone.abort();
    clearTimeout(this.rest);
    this.controls.dispose();
    this.showMap(false);
    for (const g of [...Object.values(this.laid), this.copy]) clear(g);
    this.coarse.dispose();
    this.still.dispose();
    this.bakedMap.dispose();
    this.renderer.dispose();
    this.canvas.remove();
  }
}

interface Body {
  name: string;
  kind: string;
  corners: Float32Array; // of triangles, in the world
  rims: Float32Array; // ends of edges
  pole: number[];
}

// A Soup is points, each with a colour, to be drawn as triangles or as segments.
class Soup {
  length = 0; // points
  private at: ArrayLike<number>[] = [];
  private tint: [points: number, r: number, g: number, b: number][] = [];

  add(points: ArrayLike<number>, c: Color) {
    this.at.push(points);
    this.tint.push([points.length / 3, 255 * Math.min(1, c.r), 255 * Math.min(1, c.g), 255 * Math.min(1, c.b)]);
    this.length += points.length / 3;
  }

  private geometry(): BufferGeometry {
    const at = new Float32Array(3 * this.length), tint = new Uint8Array(3 * this.length);
    let i = 0, k = 0;
    for (const p of this.at) {
      at.set(p, i);
      i += p.length;
    }
    for (const [n, r, g, b] of this.tint)
      for (let j = 0; j < n; j++) {
        tint[k++] = r;
        tint[k++] = g;
        tint[k++] = b;
      }
    const g = new BufferGeometry();
    g.setAttribute("position", new BufferAttribute(at, 3));
    g.setAttribute("tint", new BufferAttribute(tint, 3, true));
    return g;
  }

  mesh(clip: { value: Vector4 }): Mesh {
    const m = plain(clip, true);
    m.polygonOffset = true;
    m.polygonOffsetFactor = m.polygonOffsetUnits = 1;
    return new Mesh(this.geometry(), m);
  }

  segments(clip: { value: Vector4 }, o: { depthTest?: boolean; order?: number } = {}): LineSegments {
    const m = plain(clip, false);
    m.depthTest = o.depthTest ?? true;
    const l = new LineSegments(this.geometry(), m);
    l.renderOrder = o.order ?? 0;
    return l;
  }
}

const open = { value: new Vector4(0, 0, 0, 1) }; // a plane that cuts nothing

// plain draws the colours as they are, on the seen side of the plane; what is seen from within is darker.
function plain(clip: { value: Vector4 }, faces: boolean): ShaderMaterial {
  return new ShaderMaterial({
    side: DoubleSide,
    uniforms: { clip },
    vertexShader: "attribute vec3 tint; uniform vec4 clip; varying vec3 c; varying float d; void main() { c = tint; d = dot(clip.xyz, position) + clip.w; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }",
    fragmentShader: `varying vec3 c; varying float d; void main() { if (d < 0.0) discard; gl_FragColor = vec4(${faces ? "gl_FrontFacing ? c : 0.55 * c" : "c"}, 1.0); }`,
  });
}

const sun = new Vector3(0.6, -0.35, 1).normalize(), fill = new Vector3(-1, 0.8, 0.2).normalize();
const lit = (n: Vector3) => 0.62 + 0.38 * Math.max(0, n.dot(sun)) + 0.12 * Math.max(0, n.dot(fill));

// drawnBySoftware tells whether there is no graphics card, where the browser says so.
function drawnBySoftware(gl: WebGLRenderingContext | WebGL2RenderingContext): boolean {
  const names = gl.getExtension("WEBGL_debug_renderer_info");
  return names !== null && /swiftshader|llvmpipe|software/i.test(String(gl.getParameter(names.UNMASKED_RENDERER_WEBGL)));
}

function still<O extends Object3D>(o: O): O {
  o.updateMatrixWorld(true);
  o.matrixAutoUpdate = false;
  return o;
}

function clear(g: Object3D) {
  g.traverse((o) => {
    (o as Mesh).geometry?.dispose();
    const m = (o as Mesh).material as ShaderMaterial | undefined;
    m?.dispose();
    (m?.uniforms["field"]?.value as DataTexture | undefined)?.dispose();
  });
  g.clear();
}

const vec = (p: Point) => new Vector3(...p).multiplyScalar(mm);
const axisVector = (axis: number) => new Vector3().setComponent(axis, 1);

// outline draws the target's region as circles and edges.
function outline(r: Schemas["Region"]): number[] {
  const out: number[] = [];
  const half = r.size_m.map((x) => x / 2), at = (p: number[]) => p.map((x, k) => (x + r.center_m[k]!) * mm);
  const circle = (axis: number, up: number) => {
    const u = (axis + 1) % 3, v = (axis + 2) % 3, n = 48;
    for (let i = 0; i < n; i++)
      for (const k of [i, i + 1]) {
        const p = [0, 0, 0], t = (2 * Math.PI * k) / n;
        p[axis] = up;
        p[u] = half[u]! * Math.cos(t);
        p[v] = half[v]! * Math.sin(t);
        out.push(...at(p));
      }
  };
  if (r.shape === "sphere") for (const k of [0, 1, 2]) circle(k, 0);
  else if (r.shape === "cylinder") for (const s of [-1, 1]) circle(r.axis, s * half[r.axis]!);
  else
    for (const k of [0, 1, 2])
      for (const a of [-1, 1])
        for (const b of [-1, 1])
          for (const s of [-1, 1]) {
            const p = [0, 0, 0];
            p[k] = s * half[k]!;
            p[(k + 1) % 3] = a * half[(k + 1) % 3]!;
            p[(k + 2) % 3] = b * half[(k + 2) % 3]!;
            out.push(...at(p));
          }
  return out;
}

// section is what a plane cuts out of triangles, as segments lying beside it.
function section(corners: ArrayLike<number>, axis: number, at: number, beside: number): number[] {
  const out: number[] = [];
  const hair = 1.37e-5; // so that it goes through no corner or face
  for (let i = 0; i < corners.length; i += 9) {
    const d = [0, 3, 6].map((k) => corners[i + k + axis]! - at - hair);
    if (d.every((x) => x < 0) || d.every((x) => x >= 0)) continue;
    for (let k = 0; k < 3; k++) {
      const n = (k + 1) % 3, a = d[k]!, b = d[n]!;
      if (a < 0 === b < 0) continue;
      const t = a / (a - b);
      for (let c = 0; c < 3; c++) out.push(c === axis ? at + beside : corners[i + 3 * k + c]! * (1 - t) + corners[i + 3 * n + c]! * t);
    }
  }
  return out;
}

// arrows are the direction of the field within the plane, on every few points, in points of the map.
function arrows(m: Schemas["Map"]) {
  const every = Math.max(1, Math.round(Math.max(m.columns, m.rows) / 26)), long = every * 0.8;
  const out: { b: number; segments: [number, number][] }[] = [];
  for (let j = 0; j < m.rows; j += every)
    for (let i = 0; i < m.columns; i += every) {
      const k = 3 * (j * m.columns + i);
      const a = m.b_T[k + m.across]!, b = m.b_T[k + m.up]!, size = Math.hypot(a, b);
      if (size < 1e-7) continue;
      const x = a / size, y = b / size, tip: [number, number] = [i + (x / 2) * long, j + (y / 2) * long];
      const barb = (s: number): [number, number] => [i + (0.2 * x + s * 0.18 * y) * long, j + (0.2 * y - s * 0.18 * x) * long];
      out.push({ b: size, segments: [[i - (x / 2) * long, j - (y / 2) * long], tip, tip, barb(1), tip, barb(-1)] });
    }
  return out;
}

// pole is an arrow beside a magnet's middle that points to its north pole.
function pole(p: Schemas["Part"]): number[] {
  const d = new Vector3(...(p.magnetized as Point));
  const c = vec(p.center_m as Point);
  const size = vec(p.bounds_m[1] as Point).sub(vec(p.bounds_m[0] as Point));
  const long = 0.8 * Math.abs(d.dot(size));
  const side = Math.abs(d.x) < 0.9 ? new Vector3(1, 0, 0).cross(d).normalize() : new Vector3(0, 1, 0).cross(d).normalize();
  const tip = c.clone().addScaledVector(d, long / 2), tail = c.clone().addScaledVector(d, -long / 2);
  const barb = (s: number) => tip.clone().addScaledVector(d, -0.25 * long).addScaledVector(side, s * 0.15 * long);
  return [tail, tip, tip, barb(1), tip, barb(-1)].flatMap((v) => v.toArray());
}
// hand is an open right hand, 190 mm long and 85 mm across the palm: about that of a grown man (common practice, no source).
function hand(): Shape {
  const s = new Shape();
  const at: [number, number][] = [
    [18, 0], [68, 0], [72, 40], [80, 60], [104, 92], [100, 104], [92, 104], [78, 86], [82, 104], [84, 158], [80, 166], [72, 166], [68, 158], [65, 112],
    [62, 112], [61, 182], [57, 190], [49, 190], [45, 182], [44, 112], [41, 112], [38, 174], [34, 181], [27, 181], [23, 174], [23, 108],
    [20, 106], [12, 148], [8, 154], [1, 152], [0, 145], [4, 96], [6, 60], [12, 40],
  ];
  at.forEach(([x, y], i) => (i ? s.lineTo(x, y) : s.moveTo(x, y)));
  return s;
}

// spanner is an open-ended one, 150 mm long.
function spanner(): Shape {
  const s = new Shape();
  const end = [[6, 22], [14, 14], [15, 4], [9, -1], [6, 6], [-6, 6], [-9, -1], [-15, 4], [-14, 14], [-6, 22]] as const;
  s.moveTo(end[0][0], end[0][1]);
  end.slice(1).forEach(([x, y]) => s.lineTo(x, y));
  [...end].reverse().forEach(([x, y]) => s.lineTo(x, 150 - y));
  s.closePath();
  return s;
}

