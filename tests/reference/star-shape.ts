import type { StrutGraph } from '../../worker/engine/lattice/index.ts';

/**
 * Second route to the union of a lattice of cylinders that meet at nodes only, sharing nothing with the engine's surface integrals: within a
 * radius a of a node, chosen where its struts have parted, the solid is star-shaped about the node, so its volume is 1/3 of the integral of rho^3
 * over all directions, rho being the farthest of the node's sphere (radius R) and the cylinders (r / sin(angle)), at most a. What lies beyond
 * are plain cylinders with hollowed ends, in closed form. Directions are taken by the midpoint rule in height and longitude; nodes of the same
 * surroundings are integrated once. Throws where the balls of two neighbouring nodes would overlap: the solid is then not made of stars.
 */
export interface StarOptions {
  /** Circles of latitude; twice as many meridians. */
  readonly circles: number;
}

export interface StarMoments {
  readonly volume: number;
  /** Integral of |x|^2 over the solid, mm5. */
  readonly polar: number;
  /** Kinds of node that were integrated. */
  readonly kinds: number;
}

interface Arm {
  readonly direction: readonly number[];
  readonly radius: number;
  readonly length: number;
}

export function starMoments(graph: StrutGraph, { circles }: StarOptions): StarMoments {
  const arms = armsOf(graph);
  const parting = Float64Array.from(arms, (each, v) => partingRadius(each, graph.nodeRadius[v]));
  const kinds = new Map<string, { volume: number; polar: number }>();
  let [volume, polar] = [0, 0];
  for (let v = 0; v < graph.nodeCount; v++) {
    const centre = [...graph.xyz.subarray(3 * v, 3 * v + 3)];
    const kind = kindOf(centre, arms[v], graph.nodeRadius[v]);
    if (!kinds.has(kind)) kinds.set(kind, star(centre, arms[v], { R: graph.nodeRadius[v], a: parting[v] }, circles));
    volume += kinds.get(kind)!.volume;
    polar += kinds.get(kind)!.polar;
  }
  for (let s = 0; s < graph.strutCount; s++) {
    const beyond = cylinderBeyond(graph, s, parting);
    volume += beyond.volume;
    polar += beyond.polar;
  }
  return { volume, polar, kinds: kinds.size };
}

function armsOf({ nodeCount, strutCount, ends, xyz, diameters }: StrutGraph): Arm[][] {
  const arms = Array.from({ length: nodeCount }, () => [] as Arm[]);
  for (let end = 0; end < 2 * strutCount; end++) {
    if (diameters[end] !== diameters[end ^ 1]) throw new Error('cylinders only');
    const [here, there] = [ends[end], ends[end ^ 1]];
    const d = [0, 1, 2].map((i) => xyz[3 * there + i] - xyz[3 * here + i]);
    const length = Math.hypot(...d);
    arms[here].push({ direction: d.map((x) => x / length), radius: diameters[end] / 2, length });
  }
  return arms;
}

const dot = (a: readonly number[], b: readonly number[]) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Least radius at which the caps asin(r / a) of all arms lie apart, and no less than the node's sphere. */
function partingRadius(arms: readonly Arm[], R: number): number {
  let a = R;
  arms.forEach((one, i) => {
    for (const other of arms.slice(i + 1)) {
      const angle = Math.acos(dot(one.direction, other.direction));
      const apart = (radius: number) => Math.asin(one.radius / radius) + Math.asin(other.radius / radius) < angle;
      let [low, high] = [Math.max(one.radius, other.radius), 100 * (one.radius + other.radius)];
      while (high - low > 1e-9 * high) {
        if (apart((low + high) / 2)) high = (low + high) / 2;
        else low = (low + high) / 2;
      }
      a = Math.max(a, high);
    }
  });
  return a;
}

/** Nodes of the same kind have the same arms at the same angles, up to a turn or a mirror about the origin. */
function kindOf(centre: readonly number[], arms: readonly Arm[], R: number): string {
  const rounded = (values: number[]) => values.map((x) => x.toFixed(7)).sort();
  const own = arms.map(({ direction, radius, length }) => rounded([radius, length, dot(centre, direction)]).join('/'));
  const pairs = arms.flatMap((one, i) => arms.slice(i + 1).map((other) => dot(one.direction, other.direction)));
  return [R.toFixed(7), Math.hypot(...centre).toFixed(7), ...own.sort(), ...rounded(pairs)].join(' ');
}

function star(centre: readonly number[], arms: readonly Arm[], { R, a }: { R: number; a: number }, circles: number) {
  let [volume, polar] = [0, 0];
  const square = dot(centre, centre);
  for (let i = 0; i < circles; i++) {
    const z = (2 * i + 1) / circles - 1;
    const flat = Math.sqrt(1 - z * z);
    for (let k = 0; k < 2 * circles; k++) {
      const longitude = (Math.PI * (k + 0.5)) / circles;
      const [x, y] = [flat * Math.cos(longitude), flat * Math.sin(longitude)];
      let rho = R;
      for (const { direction, radius } of arms) {
        const cosine = x * direction[0] + y * direction[1] + z * direction[2];
        if (cosine > 0) rho = Math.max(rho, radius / Math.sqrt(Math.max(1e-300, 1 - cosine * cosine)));
      }
      rho = Math.min(rho, a);
      volume += rho ** 3 / 3;
      // |c + s n|^2 s^2, from 0 to rho
      polar += (square * rho ** 3) / 3 + ((centre[0] * x + centre[1] * y + centre[2] * z) * rho ** 4) / 2 + rho ** 5 / 5;
    }
  }
  const share = (4 * Math.PI) / (2 * circles * circles);
  return { volume: volume * share, polar: polar * share };
}

/** Ten-point Gauss-Legendre rule on [0, 1] (Abramowitz and Stegun, table 25.4). */
const GAUSS = [
  [0.1488743389816312, 0.2955242247147529],
  [0.4333953941292472, 0.2692667193099963],
  [0.6794095682990244, 0.219086362515982],
  [0.8650633666889845, 0.1494513491505806],
  [0.9739065285171717, 0.0666713443086881],
].flatMap(([x, w]) => [
  [(1 - x) / 2, w / 2],
  [(1 + x) / 2, w / 2],
]);

/** The cylinder between the balls at its ends: on every line of it, w from the axis squared, from sqrt(a^2 - w) on. */
function cylinderBeyond({ ends, xyz, diameters }: StrutGraph, s: number, parting: Float64Array) {
  const [v, w] = [ends[2 * s], ends[2 * s + 1]];
  const p = [...xyz.subarray(3 * v, 3 * v + 3)];
  const d = [0, 1, 2].map((i) => xyz[3 * w + i] - p[i]);
  const length = Math.hypot(...d);
  if (parting[v] + parting[w] > length) throw new Error(`strut ${s}: the joints of its ends meet`);
  const pu = dot(p, d) / length;
  const square = diameters[2 * s] ** 2 / 4;
  let [volume, polar] = [0, 0];
  for (const [node, weight] of GAUSS) {
    const off = square * node;
    const [from, to] = [Math.sqrt(parting[v] ** 2 - off), length - Math.sqrt(parting[w] ** 2 - off)];
    const share = Math.PI * square * weight;
    volume += share * (to - from);
    polar += share * ((dot(p, p) + off) * (to - from) + pu * (to * to - from * from) + (to ** 3 - from ** 3) / 3);
  }
  return { volume, polar };
}
