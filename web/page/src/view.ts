// The parts in three dimensions, with the field on a plane and the surface of a stray limit. World axes as in the design file, z up; millimetres.
import {
  AmbientLight, Box3, BufferAttribute, BufferGeometry, ClampToEdgeWrapping, Color, DataTexture, DataUtils, DirectionalLight, DoubleSide, EdgesGeometry, ExtrudeGeometry,
  FrontSide, Group, HalfFloatType, LinearFilter, LineBasicMaterial, LineSegments, Matrix4, Mesh, MeshBasicMaterial, MeshLambertMaterial,
  PerspectiveCamera, Plane, PlaneGeometry, Raycaster, RedFormat, RGBAFormat, Scene, ShaderMaterial, Shape, UnsignedByteType, Vector2, Vector3, WebGLRenderer,
} from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";
import type { Schemas } from "./ask";

const mm = 1e3;
const colours: Record<string, [light: string, dark: string]> = {
  magnet: ["#b4552d", "#d9794e"], steel: ["#5d6b78", "#8796a3"], wound: ["#8a6d1f", "#c09a35"], spacer: ["#9fb4ad", "#5f766e"], coil: ["#7a4a86", "#b07fbd"],
};

export interface Seen {
  cut: { axis: number; at: number } | null; // what lies beyond, on the positive side, is taken away; m
  hidden: ReadonlySet<string>;
  picked: string | null;
  map: Schemas["Map"] | null;
  mapTop: number; // T at the end of the colours
  lines: boolean;
  arrows: boolean;
  fence: Schemas["Fence"] | null;
  stale: boolean;
}

export class View {
  readonly canvas: HTMLCanvasElement;
  frames = 0; // drawn so far, for measurements
  onPick: (name: string | null) => void = () => {};
  onHover: (at: { b: number; x: number; y: number; place: [number, number, number] } | null) => void = () => {};

  private renderer: WebGLRenderer;
  private scene = new Scene();
  private camera = new PerspectiveCamera(35, 1, 1, 1e6);
  private controls: OrbitControls;
  private parts = new Group();
  private extras = new Group();
  private plane: Mesh | null = null;
  private palette: DataTexture;
  private wanted = false;
  private box = new Box3(new Vector3(-50, -50, -50), new Vector3(50, 50, 50));
  private seen: Seen | null = null;
  private dark = false;
  private gone = new AbortController();

  constructor(private host: HTMLElement, palette: number[][]) {
    this.renderer = new WebGLRenderer({ antialias: true, alpha: true });
    this.renderer.localClippingEnabled = true;
    this.canvas = this.renderer.domElement;
    host.append(this.canvas);
    this.canvas.tabIndex = 0;
    this.canvas.setAttribute("role", "img");
    this.camera.up.set(0, 0, 1);
    this.controls = new OrbitControls(this.camera, this.canvas);
    this.controls.addEventListener("change", () => this.draw());
    this.scene.add(this.parts, this.extras, new AmbientLight(0xffffff, 1.6));
    const sun = new DirectionalLight(0xffffff, 2.2);
    sun.position.set(0.6, -0.35, 1);
    const fill = new DirectionalLight(0xffffff, 0.6);
    fill.position.set(-1, 0.8, 0.2);
    this.scene.add(sun, fill);
    const bytes = new Uint8Array(palette.length * 4);
    palette.forEach((c, i) => bytes.set([c[0]!, c[1]!, c[2]!, 255], 4 * i));
    this.palette = new DataTexture(bytes, palette.length, 1, RGBAFormat, UnsignedByteType);
    this.palette.magFilter = this.palette.minFilter = LinearFilter;
    this.palette.needsUpdate = true;
    const seenSize = new ResizeObserver(() => this.resize());
    seenSize.observe(host);
    const scheme = matchMedia("(prefers-color-scheme: dark)");
    this.dark = scheme.matches;
    const on = { signal: this.gone.signal };
    scheme.addEventListener("change", () => ((this.dark = scheme.matches), this.seen && this.show(this.seen)), on);
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
      const hit = this.hits(e).find((h) => h.object.userData["name"]);
      this.onPick((hit?.object.userData["name"] as string) ?? null);
    }, on);
    this.canvas.addEventListener("pointermove", (e) => {
      const hit = this.plane && e.buttons === 0 ? this.hits(e).find((h) => h.object === this.plane) : undefined;
      const m = this.seen?.map;
      if (!hit || !m) return this.onHover(null);
      const p = [hit.point.x / mm, hit.point.y / mm, hit.point.z / mm] as [number, number, number];
      const i = Math.round((p[m.across]! - m.corner_m[0]!) / m.step_m), j = Math.round((p[m.up]! - m.corner_m[1]!) / m.step_m);
      if (i < 0 || j < 0 || i >= m.columns || j >= m.rows) return this.onHover(null);
      const k = 3 * (j * m.columns + i);
      p[m.plane.axis] = m.plane.at_m;
      p[m.across] = m.corner_m[0]! + i * m.step_m;
      p[m.up] = m.corner_m[1]! + j * m.step_m;
      const frame = this.canvas.getBoundingClientRect();
      this.onHover({ b: Math.hypot(m.b_T[k]!, m.b_T[k + 1]!, m.b_T[k + 2]!), x: e.clientX - frame.left, y: e.clientY - frame.top, place: p });
    }, on);
    this.canvas.addEventListener("pointerleave", () => this.onHover(null), on);
    this.canvas.addEventListener("keydown", (e) => {
      const turn = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
      if (turn) {
        e.preventDefault();
        this.turn(turn[0]! * 0.1, turn[1]! * 0.1);
      } else if (e.key === "+" || e.key === "-") this.zoom(e.key === "+" ? 0.9 : 1 / 0.9);
    }, on);
  }

  private hits(e: PointerEvent) {
    const f = this.canvas.getBoundingClientRect();
    const ray = new Raycaster();
    ray.setFromCamera(new Vector2((2 * (e.clientX - f.left)) / f.width - 1, 1 - (2 * (e.clientY - f.top)) / f.height), this.camera);
    const cut = this.cutPlane();
    return ray.intersectObjects([this.parts, ...(this.plane ? [this.plane] : [])], true).filter((h) => h.object === this.plane || !cut || cut.distanceToPoint(h.point) >= 0);
  }

  // turn moves the eye round the middle, radians.
  turn(azimuth: number, height: number) {
    const at = this.controls.target;
    const d = this.camera.position.clone().sub(at);
    const r = d.length();
    const theta = Math.atan2(d.y, d.x) + azimuth;
    const phi = Math.min(1.55, Math.max(-1.55, Math.asin(d.z / r) + height));
    this.camera.position.set(at.x + r * Math.cos(phi) * Math.cos(theta), at.y + r * Math.cos(phi) * Math.sin(theta), at.z + r * Math.sin(phi));
    this.controls.update();
    this.draw();
  }

  zoom(by: number) {
    const at = this.controls.target;
    this.camera.position.sub(at).multiplyScalar(by).add(at);
    this.controls.update();
    this.draw();
  }

  // look shows everything from a direction.
  look(from: [number, number, number]) {
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
    this.draw();
  }

  private resize() {
    const w = Math.max(1, this.host.clientWidth), h = Math.max(1, this.host.clientHeight);
    this.renderer.setPixelRatio(Math.min(2, devicePixelRatio) * this.shown);
    this.renderer.setSize(w, h);
    this.camera.aspect = w / h;
    this.camera.updateProjectionMatrix();
    this.draw();
  }

  private draw() {
    if (this.wanted) return;
    this.wanted = true;
    requestAnimationFrame((now) => {
      this.wanted = false;
      this.frames++;
      const since = now - this.drawn;
      this.drawn = now;
      // While it moves, a slow machine gets fewer points; at rest it gets them all.
      if (since < 500) this.sharpness = since > 28 ? Math.max(0.3, this.sharpness * 0.8) : since < 20 ? Math.min(1, this.sharpness * 1.06) : this.sharpness;
      this.sharpen(since < 500 ? this.sharpness : 1);
      this.renderer.render(this.scene, this.camera);
      clearTimeout(this.rest);
      this.rest = setTimeout(() => {
        if (this.gone.signal.aborted || !this.sharpen(1)) return;
        this.renderer.render(this.scene, this.camera);
      }, 300);
    });
  }

  private sharpness = 1;
  private shown = 1;
  private drawn = 0;
  private rest: ReturnType<typeof setTimeout> | undefined;

  // sharpen sets the share of the screen's points that are drawn, and tells whether it was another.
  private sharpen(to: number): boolean {
    if (Math.abs(to - this.shown) < 0.02) return false;
    this.shown = to;
    this.renderer.setPixelRatio(Math.min(2, devicePixelRatio) * to);
    return true;
  }

  // build takes the parts of a design. The view stays where it is unless the design is another.
  build(l: Schemas["Look"], anew: boolean) {
    clear(this.parts);
    const bodies = l.meshes.map((m) => {
      const g = new BufferGeometry();
      g.setAttribute("position", new BufferAttribute(new Float32Array(m.corners_mm), 3));
      g.computeVertexNormals();
      return g;
    });
    const rims = bodies.map((g) => new EdgesGeometry(g, 25));
    for (const p of l.parts) {
      if (p.mesh < 0) continue;
      const r = p.rotation, c = p.center_m;
      const place = new Matrix4().set(r[0]![0]!, r[0]![1]!, r[0]![2]!, c[0]! * mm, r[1]![0]!, r[1]![1]!, r[1]![2]!, c[1]! * mm, r[2]![0]!, r[2]![1]!, r[2]![2]!, c[2]! * mm, 0, 0, 0, 1);
      const body = new Mesh(bodies[p.mesh]!, new MeshLambertMaterial());
      body.userData = { name: p.name, kind: p.kind };
      const rim = new LineSegments(rims[p.mesh]!, new LineBasicMaterial());
      rim.userData = { of: p.name };
      const both = new Group();
      both.add(body, rim);
      both.applyMatrix4(place);
      this.parts.add(both);
      if (p.magnetized) this.parts.add(arrow(p));
    }
    if (l.box) this.box = new Box3(new Vector3(...(l.box.min_m as [number, number, number])).multiplyScalar(mm), new Vector3(...(l.box.max_m as [number, number, number])).multiplyScalar(mm));
    if (anew) this.look([1, -0.75, 0.55]);
    if (this.seen) this.show(this.seen);
  }

  private cutPlane(): Plane | null {
    const c = this.seen?.cut;
    if (!c) return null;
    const n = new Vector3();
    n.setComponent(c.axis, -1);
    return new Plane(n, c.at * mm + 1e-3);
  }

  show(s: Seen) {
    const newMap = this.seen?.map !== s.map || this.seen?.mapTop !== s.mapTop || this.seen?.lines !== s.lines || this.seen?.arrows !== s.arrows || this.seen?.stale !== s.stale;
    const newFence = this.seen?.fence !== s.fence;
    this.seen = s;
    const cut = this.cutPlane();
    this.parts.traverse((o) => {
      const name = (o.userData["name"] ?? o.userData["of"]) as string | undefined;
      if (!name) return;
      o.visible = !s.hidden.has(name);
      const m = (o as Mesh).material as MeshLambertMaterial;
      m.clippingPlanes = cut ? [cut] : [];
      m.side = cut ? DoubleSide : FrontSide;
      if (o.userData["kind"]) {
        m.color = new Color((colours[o.userData["kind"] as string] ?? colours["steel"]!)[this.dark ? 1 : 0]);
        m.emissive = new Color(name === s.picked ? (this.dark ? "#2d5a8a" : "#1f4e8c") : "#000");
        m.emissiveIntensity = name === s.picked ? 0.6 : 0;
        m.polygonOffset = true;
        m.polygonOffsetFactor = 1;
        m.polygonOffsetUnits = 1;
      } else if (o.userData["of"] && !o.userData["arrow"]) m.color = new Color(name === s.picked ? (this.dark ? "#9cc7ff" : "#0b3d91") : this.dark ? "#0d1116" : "#20262c");
    });
    if (newMap || newFence || s.map) {
      clear(this.extras);
      this.plane = null;
      if (s.map) {
        this.addMap(s.map, s);
        this.addOutlines(s.map.plane.axis, s.map.plane.at_m * mm);
      }
      if (s.fence) this.addFence(s.fence, newFence);
    }
    this.draw();
  }

  private addMap(m: Schemas["Map"], s: Seen) {
    const n = m.columns * m.rows;
    const values = new Uint16Array(n);
    for (let i = 0; i < n; i++) values[i] = DataUtils.toHalfFloat(Math.hypot(m.b_T[3 * i]!, m.b_T[3 * i + 1]!, m.b_T[3 * i + 2]!));
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
        size: { value: new Vector2(m.columns, m.rows) }, fade: { value: s.stale ? 0.35 : 1 }, dark: { value: this.dark ? 1 : 0 },
      },
      vertexShader: "varying vec2 at; void main() { at = uv; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }",
      fragmentShader: `
        uniform sampler2D field, palette; uniform float top, lines, fade, dark; uniform vec2 size; varying vec2 at;
        void main() {
          float t = texture2D(field, (at * (size - 1.0) + 0.5) / size).r / top;
          vec3 c = texture2D(palette, vec2(clamp(t, 0.0, 1.0) * 63.0 / 64.0 + 0.5 / 64.0, 0.5)).rgb;
          float k = t * lines, w = fwidth(k);
          float line = lines > 0.0 && t < 1.02 ? 1.0 - smoothstep(0.6 * w, 1.4 * w, abs(fract(k - 0.5) - 0.5)) : 0.0;
          c = mix(c, t > 0.6 ? vec3(0.0) : vec3(1.0), line * 0.75 * step(w, 0.3));
          gl_FragColor = vec4(mix(dark > 0.5 ? vec3(0.1) : vec3(0.95), c, fade), mix(0.25, 1.0, smoothstep(0.0, 0.03, t)));
        }`,
    });
    const plane = new Mesh(new PlaneGeometry(w, h), material);
    const u = new Vector3(), v = new Vector3(), o = new Vector3();
    u.setComponent(m.across, 1);
    v.setComponent(m.up, 1);
    o.setComponent(m.plane.axis, m.plane.at_m * mm);
    o.setComponent(m.across, m.corner_m[0]! * mm + w / 2);
    o.setComponent(m.up, m.corner_m[1]! * mm + h / 2);
    plane.applyMatrix4(new Matrix4().makeBasis(u, v, u.clone().cross(v)).setPosition(o));
    this.plane = plane;
    this.extras.add(plane);
    if (s.arrows) this.addArrows(m);
  }

  // addOutlines draws what the plane cuts out of the parts.
  private addOutlines(axis: number, at: number) {
    const points: number[] = [];
    const corners = [new Vector3(), new Vector3(), new Vector3()] as const;
    const hair = 1.37e-5; // beside the plane, so that it goes through no corner or face
    for (const both of this.parts.children) {
      const body = both.children[0] as Mesh | undefined;
      if (!body?.userData["kind"] || !body.visible) continue;
      both.updateMatrixWorld();
      const p = body.geometry.getAttribute("position");
      for (let i = 0; i + 2 < p.count; i += 3) {
        const d = corners.map((c, k) => c.fromBufferAttribute(p, i + k).applyMatrix4(both.matrixWorld).getComponent(axis) - at - hair);
        if (d.every((x) => x < 0) || d.every((x) => x >= 0)) continue;
        for (let k = 0; k < 3; k++) {
          const a = d[k]!, b = d[(k + 1) % 3]!;
          if (a < 0 === b < 0) continue;
          const x = corners[k]!.clone().lerp(corners[(k + 1) % 3]!, a / (a - b));
          x.setComponent(axis, at + 0.05);
          points.push(x.x, x.y, x.z);
        }
      }
    }
    const g = new BufferGeometry();
    g.setAttribute("position", new BufferAttribute(new Float32Array(points), 3));
    this.extras.add(new LineSegments(g, new LineBasicMaterial({ color: "#ffffff" })));
  }

  // addArrows draws the direction of the field within the plane, on every few points.
  private addArrows(m: Schemas["Map"]) {
    const every = Math.max(1, Math.round(Math.max(m.columns, m.rows) / 26));
    const long = every * m.step_m * mm * 0.8;
    const points: number[] = [];
    for (let j = 0; j < m.rows; j += every)
      for (let i = 0; i < m.columns; i += every) {
        const k = 3 * (j * m.columns + i);
        const a = m.b_T[k + m.across]!, b = m.b_T[k + m.up]!, size = Math.hypot(a, b);
        if (size < 1e-7) continue;
        const put = (x: number, y: number) => {
          const p = [0, 0, 0];
          p[m.plane.axis] = m.plane.at_m * mm + 0.15;
          p[m.across] = (m.corner_m[0]! + i * m.step_m) * mm + x * long;
          p[m.up] = (m.corner_m[1]! + j * m.step_m) * mm + y * long;
          points.push(...p);
        };
        const x = a / size, y = b / size;
        put(-x / 2, -y / 2), put(x / 2, y / 2);
        put(x / 2, y / 2), put(x / 2 - 0.3 * x + 0.18 * y, y / 2 - 0.3 * y - 0.18 * x);
        put(x / 2, y / 2), put(x / 2 - 0.3 * x - 0.18 * y, y / 2 - 0.3 * y + 0.18 * x);
      }
    const g = new BufferGeometry();
    g.setAttribute("position", new BufferAttribute(new Float32Array(points), 3));
    this.extras.add(new LineSegments(g, new LineBasicMaterial({ color: "#ffffff" })));
  }

  // addFence draws the surface of a limit, with a hand and a spanner of 150 mm lying under it for scale.
  private addFence(f: Schemas["Fence"], fresh: boolean) {
    const g = new BufferGeometry();
    g.setAttribute("position", new BufferAttribute(new Float32Array(f.points_m.flat().map((x) => x * mm)), 3));
    g.setIndex(f.triangles.flat());
    g.computeVertexNormals();
    const colour = this.dark ? "#6aa5e8" : "#1f5fa8";
    this.extras.add(new Mesh(g, new MeshBasicMaterial({ color: colour, transparent: true, opacity: 0.14, depthWrite: false, side: DoubleSide })));
    this.extras.add(new LineSegments(new EdgesGeometry(g, 0), new LineBasicMaterial({ color: colour, transparent: true, opacity: 0.22 })));
    const floor = this.box.min.z;
    const right = this.box.max.x + 30;
    const lay = (s: Shape, x: number, y: number, thick: number, tint: string) => {
      const body = new Mesh(new ExtrudeGeometry(s, { depth: thick, bevelEnabled: false, curveSegments: 8 }), new MeshLambertMaterial({ color: tint }));
      body.position.set(x, y, floor);
      this.extras.add(body);
    };
    lay(hand(), right, -95, 22, this.dark ? "#d8b49a" : "#c99b7b");
    lay(spanner(), right + 120, -75, 6, this.dark ? "#aab4bd" : "#79848e");
    if (!fresh) return;
    const all = new Box3().setFromObject(this.extras);
    const away = this.camera.position.distanceTo(this.controls.target);
    if (all.getSize(new Vector3()).length() > away) this.zoom((1.6 * all.getSize(new Vector3()).length()) / away);
    this.camera.far = Math.max(this.camera.far, 40 * all.getSize(new Vector3()).length());
    this.camera.updateProjectionMatrix();
  }

  end() {
    this.gone.abort();
    this.controls.dispose();
    clear(this.parts);
    clear(this.extras);
    this.renderer.dispose();
    this.canvas.remove();
  }
}

function clear(g: Group) {
  g.traverse((o) => {
    (o as Mesh).geometry?.dispose();
    const m = (o as Mesh).material;
    if (m) for (const x of Array.isArray(m) ? m : [m]) x.dispose();
    ((m as ShaderMaterial | undefined)?.uniforms?.["field"]?.value as DataTexture | undefined)?.dispose();
  });
  g.clear();
}

// arrow stands beside a magnet's middle and points to its north pole.
function arrow(p: Schemas["Part"]): LineSegments {
  const d = new Vector3(...(p.magnetized as [number, number, number]));
  const c = new Vector3(...(p.center_m as [number, number, number])).multiplyScalar(mm);
  const lo = new Vector3(...(p.bounds_m[0] as [number, number, number])), hi = new Vector3(...(p.bounds_m[1] as [number, number, number]));
  const size = hi.sub(lo).multiplyScalar(mm);
  const long = 0.8 * Math.abs(d.dot(size));
  const side = Math.abs(d.x) < 0.9 ? new Vector3(1, 0, 0).cross(d).normalize() : new Vector3(0, 1, 0).cross(d).normalize();
  const tip = c.clone().addScaledVector(d, long / 2), tail = c.clone().addScaledVector(d, -long / 2);
  const barb = (s: number) => tip.clone().addScaledVector(d, -0.25 * long).addScaledVector(side, s * 0.15 * long);
  const g = new BufferGeometry().setFromPoints([tail, tip, tip, barb(1), tip, barb(-1)]);
  const l = new LineSegments(g, new LineBasicMaterial({ color: "#fff3d6", depthTest: false, transparent: true, opacity: 0.9 }));
  l.renderOrder = 2;
  l.userData = { of: p.name, arrow: true };
  return l;
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

