import {
  AmbientLight,
  Color,
  CylinderGeometry,
  DirectionalLight,
  GridHelper,
  InstancedMesh,
  Matrix4,
  MeshLambertMaterial,
  PerspectiveCamera,
  Quaternion,
  Scene,
  SphereGeometry,
  Vector3,
  WebGLRenderer,
} from 'three';

/** graph.json: nodes, struts between them with their diameters, and the role of each strut. */
export interface Graph {
  nodes: readonly (readonly [number, number, number])[];
  struts: readonly (readonly number[])[];
  roles?: readonly string[];
}

/** A lattice that can be turned; whoever opens it closes it. */
export interface OpenScene {
  turn(aboutUp: number, aboutSide: number): void;
  zoom(factor: number): void;
  /** Shows other places of the nodes, xyz in a row from the floor up, above that floor, with struts coloured by a value from 0 to 1; null: as designed. */
  pose(xyz: ArrayLike<number> | null, shade?: (strut: number) => number): void;
  /** Struts and nodes that stand out. */
  mark(struts: ReadonlySet<number>, nodes: ReadonlySet<number>): void;
  close(): void;
}

/** Okabe and Ito's colours, told apart by everybody. */
const ROLES = ['#0072b2', '#e69f00', '#009e73', '#cc79a7', '#56b4e9', '#d55e00'];
const STANDS_OUT = new Color('#d55e00');
const FADED = new Color('#8b9096');
const UP = new Vector3(0, 1, 0);
/** Where a picture takes longer than this (ms) to be shown, as it does without a GPU, what moves is drawn simply, and well when it rests. */
const SLOW_MS = 70;
const REST_MS = 250;
const FEW_POINTS = 0.5;
const FEW_SIDES = 3;

export function openScene(canvas: HTMLCanvasElement, { nodes, struts, roles = [] }: Graph): OpenScene {
  const renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
  const scene = new Scene();
  scene.add(new AmbientLight('#ffffff', 1.1));
  const sun = new DirectionalLight('#ffffff', 2.4);
  scene.add(sun);
  const radius = Math.max(...nodes.map((each) => Math.hypot(...each)));
  const camera = new PerspectiveCamera(35, 1, radius / 10, radius * 20);
  const names = [...new Set(roles)];
  const colourOf = (strut: number) => new Color(ROLES[Math.max(0, names.indexOf(roles[strut])) % ROLES.length]);

  // many struts are far away: fewer sides are enough then
  const sides = struts.length > 3000 ? 6 : 10;
  const tube = new CylinderGeometry(1, 1, 1, sides, 1, true);
  const simpleTube = new CylinderGeometry(1, 1, 1, FEW_SIDES, 1, true);
  const tubes = new InstancedMesh(tube, new MeshLambertMaterial(), struts.length);
  const balls = new InstancedMesh(new SphereGeometry(1, sides, sides / 2 + 1), new MeshLambertMaterial(), nodes.length);
  scene.add(tubes, balls);
  // only while a bounce is shown
  const floor = new GridHelper(radius * 3, 12, '#808890', '#808890');
  floor.position.y = -radius;
  floor.visible = false;
  scene.add(floor);
  const nodeRadius = new Float64Array(nodes.length);
  for (const [a, b, da, db = da] of struts) {
    nodeRadius[a] = Math.max(nodeRadius[a], da / 2);
    nodeRadius[b] = Math.max(nodeRadius[b], db / 2);
  }
  const rest = Float64Array.from(nodes.flat());

  const place = (xyz: ArrayLike<number>, lift: number) => {
    const [at, to, along, size] = [new Vector3(), new Vector3(), new Vector3(), new Vector3()];
    const [turned, matrix] = [new Quaternion(), new Matrix4()];
    // z is up in the lattice, y on the screen
    const point = (target: Vector3, v: number) => target.set(xyz[3 * v], xyz[3 * v + 2] + lift, -xyz[3 * v + 1]);
    struts.forEach(([a, b, da, db = da], s) => {
      along.subVectors(point(to, b), point(at, a));
      const length = along.length();
      turned.setFromUnitVectors(UP, along.divideScalar(length || 1));
      const r = (da + db) / 4;
      tubes.setMatrixAt(s, matrix.compose(at.add(to).multiplyScalar(0.5), turned, size.set(r, length, r)));
    });
    for (let v = 0; v < nodes.length; v++) {
      const r = nodeRadius[v];
      balls.setMatrixAt(v, matrix.compose(point(at, v), turned.identity(), size.set(r, r, r)));
    }
    tubes.instanceMatrix.needsUpdate = true;
    balls.instanceMatrix.needsUpdate = true;
  };
  const paint = (tube: (strut: number) => Color, ball: (node: number) => Color) => {
    for (let s = 0; s < struts.length; s++) tubes.setColorAt(s, tube(s));
    for (let v = 0; v < nodes.length; v++) balls.setColorAt(v, ball(v));
    if (tubes.instanceColor) tubes.instanceColor.needsUpdate = true;
    if (balls.instanceColor) balls.instanceColor.needsUpdate = true;
  };
  const ballColours = () => {
    const colours = new Map<number, Color>();
    struts.forEach(([a, b], s) => [a, b].forEach((v) => colours.has(v) || colours.set(v, colourOf(s))));
    return (node: number) => colours.get(node) ?? FADED;
  };
  const plain = ballColours();

  let [about, above, distance, asked] = [0.5, 0.35, radius * 3.9, false];
  const finest = Math.min(2, devicePixelRatio);
  let slow = false;
  let resting: ReturnType<typeof setTimeout>;
  const drawMoving = (began: number) => {
    draw(slow);
    requestAnimationFrame((shown) => {
      slow ||= shown - began > SLOW_MS;
    });
    clearTimeout(resting);
    if (slow) resting = setTimeout(() => draw(false), REST_MS);
  };
  const draw = (simply: boolean) => {
    asked = false;
    renderer.setPixelRatio(simply ? FEW_POINTS : finest);
    balls.visible = !simply;
    tubes.geometry = simply ? simpleTube : tube;
    const { clientWidth: width, clientHeight: height } = canvas;
    renderer.setSize(width, height, false);
    camera.aspect = width / height || 1;
    camera.position.setFromSphericalCoords(distance, Math.PI / 2 - above, about);
    camera.lookAt(0, 0, 0);
    camera.updateProjectionMatrix();
    sun.position.copy(camera.position).add(new Vector3(radius, radius * 2, 0));
    renderer.render(scene, camera);
  };
  const wanted = () => {
    if (!asked) requestAnimationFrame(drawMoving);
    asked = true;
  };
  place(rest, 0);
  paint(colourOf, plain);
  wanted();
  const resized = new ResizeObserver(wanted);
  resized.observe(canvas);

  return {
    turn: (aboutUp, aboutSide) => {
      about -= aboutUp;
      above = Math.min(1.5, Math.max(-1.5, above + aboutSide));
      wanted();
    },
    zoom: (factor) => {
      distance = Math.min(radius * 12, Math.max(radius * 1.4, distance * factor));
      wanted();
    },
    pose: (xyz, shade = () => 0) => {
      const posed = floor.visible;
      floor.visible = xyz !== null;
      if (xyz) {
        place(xyz, -radius);
        const tint = new Color();
        paint(
          (s) => tint.lerpColors(FADED, STANDS_OUT, Math.min(1, shade(s))),
          () => FADED,
        );
      } else if (posed) {
        place(rest, 0);
        paint(colourOf, plain);
      }
      wanted();
    },
    mark: (some, others) => {
      const any = some.size + others.size > 0;
      paint(
        (s) => (some.has(s) ? STANDS_OUT : any ? FADED : colourOf(s)),
        (v) => (others.has(v) ? STANDS_OUT : any ? FADED : plain(v)),
      );
      wanted();
    },
    close: () => {
      clearTimeout(resting);
      resized.disconnect();
      floor.dispose();
      for (const geometry of [tube, simpleTube, balls.geometry]) geometry.dispose();
      for (const mesh of [tubes, balls]) mesh.dispose();
      renderer.dispose();
    },
  };
}
