/** A raster that convex bodies are drawn into: what `Seen` tells, and where it lies. */
export interface Raster {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pixelMm: number;
  /** What lies nearer to the eye than the middle is taken away. */
  readonly cut: boolean;
  readonly nodeCount: number;
  readonly body: Int32Array;
  readonly depthMm: Float32Array;
  readonly facing: Float32Array;
  readonly lean: Float32Array;
}

/** In place of the cosine to the eye: a face of the cut. */
export const CUT_FACE = 2;

/** Below this, what a ray is divided by is rounding: it runs along a surface. */
const FLAT = 1e-12;

/** First and last column or row of the raster in a stretch from the middle, mm. */
const first = (mm: number, pixelMm: number, sizePx: number) => Math.max(0, Math.ceil(mm / pixelMm + sizePx / 2 - 0.5));
const last = (mm: number, pixelMm: number, sizePx: number) => Math.min(sizePx - 1, Math.floor(mm / pixelMm + sizePx / 2 - 0.5));

/** Order in which bodies of one depth cover each other: nodes, then struts, each by their numbers. */
const rank = (body: number, nodeCount: number): number => (body >= 0 ? nodeCount + body : -1 - body);

/**
 * Whether a ray that meets a body between two depths, mm towards the eye, shows it there: it is not cut away, and nothing seen so far is nearer. Sets depth and
 * body, and of a face of the cut that it is one; true: the normal is still to be set.
 */
function shows(raster: Raster, at: number, body: number, near: number, far: number): boolean {
  const opened = raster.cut && near > 0;
  if (opened && far > 0) return false;
  const depth = Math.fround(opened ? 0 : near);
  const before = raster.depthMm[at];
  if (depth < before || (depth === before && rank(body, raster.nodeCount) < rank(raster.body[at], raster.nodeCount))) return false;
  raster.depthMm[at] = depth;
  raster.body[at] = body;
  if (!opened) return true;
  raster.facing[at] = CUT_FACE;
  return false;
}

/** Draws a ball at a place of the camera (right, up, towards the eye, mm from the middle). */
export function drawBall(raster: Raster, body: number, [x0, y0, z0]: ArrayLike<number> & Iterable<number>, r: number): void {
  const { widthPx, heightPx, pixelMm, cut, depthMm, facing, lean } = raster;
  if (cut && z0 - r > 0) return;
  const nearest = z0 + r;
  const bottom = last(r - y0, pixelMm, heightPx);
  for (let j = first(-y0 - r, pixelMm, heightPx); j <= bottom; j++) {
    const y = (heightPx / 2 - 0.5 - j) * pixelMm - y0;
    const half = Math.sqrt(Math.max(0, r * r - y * y));
    const right = last(x0 + half, pixelMm, widthPx);
    for (let i = first(x0 - half, pixelMm, widthPx); i <= right; i++) {
      const at = j * widthPx + i;
      if (nearest < depthMm[at]) continue;
      const x = (i + 0.5 - widthPx / 2) * pixelMm - x0;
      const square = r * r - x * x - y * y;
      if (square <= 0) continue;
      const deep = Math.sqrt(square);
      if (!shows(raster, at, body, z0 + deep, z0 - deep)) continue;
      lean[2 * at] = x / r;
      lean[2 * at + 1] = y / r;
      facing[at] = deep / r;
    }
  }
}

/**
 * Draws a frustum between two places with these radii. Its end discs lie inside the spheres of its nodes, so their normals do not matter. On the ray (x, y, z)
 * from the start: along = g + uz z, inside where |.|^2 - along^2 <= (r + slope along)^2, a quadratic in z.
 */
export function drawFrustum(raster: Raster, body: number, p: Float64Array, q: Float64Array, r: number, s: number): void {
  const { widthPx, heightPx, pixelMm, cut, depthMm, facing, lean } = raster;
  if (cut && Math.min(p[2] - r, q[2] - s) > 0) return;
  const length = Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
  const [ux, uy, uz] = [(q[0] - p[0]) / length, (q[1] - p[1]) / length, (q[2] - p[2]) / length];
  const slope = (s - r) / length;
  const normal = 1 / Math.hypot(1, slope);
  const a = 1 - uz * uz * (1 + slope * slope);
  const level = Math.abs(uz) <= FLAT;
  const nearest = Math.max(p[2] + r, q[2] + s);
  const spanOf = shadow(p, q, r, s);
  const bottom = last(Math.max(r - p[1], s - q[1]), pixelMm, heightPx);
  for (let j = first(Math.min(-p[1] - r, -q[1] - s), pixelMm, heightPx); j <= bottom; j++) {
    const yMm = (heightPx / 2 - 0.5 - j) * pixelMm;
    const y = yMm - p[1];
    const span = spanOf(yMm);
    const right = last(span[1], pixelMm, widthPx);
    for (let i = first(span[0], pixelMm, widthPx); i <= right; i++) {
      const at = j * widthPx + i;
      if (nearest < depthMm[at]) continue;
      const x = (i + 0.5 - widthPx / 2) * pixelMm - p[0];
      const g = x * ux + y * uy;
      const reach = r + slope * g;
      const b = -uz * (g + slope * reach);
      const c = x * x + y * y - g * g - reach * reach;
      let low = Number.NEGATIVE_INFINITY;
      let high = Number.POSITIVE_INFINITY;
      if (a > FLAT) {
        const root = b * b - a * c;
        if (root <= 0) continue;
        const half = Math.sqrt(root);
        low = (-b - half) / a;
        high = (-b + half) / a;
      } else if (a < -FLAT) {
        const root = b * b - a * c;
        // The ray runs within the cone's opening: it stays inside beyond the root on the side where the frustum grows wider.
        if (root > 0 && slope * uz > 0) low = (-b - Math.sqrt(root)) / a;
        else if (root > 0) high = (-b + Math.sqrt(root)) / a;
      } else if (b > FLAT) high = -c / (2 * b);
      else if (b < -FLAT) low = -c / (2 * b);
      else if (c > 0) continue;
      if (level) {
        if (g < 0 || g > length) continue;
      } else {
        const start = -g / uz;
        const end = (length - g) / uz;
        if (uz > 0) {
          if (start > low) low = start;
          if (end < high) high = end;
        } else {
          if (end > low) low = end;
          if (start < high) high = start;
        }
      }
      if (low >= high || !shows(raster, at, body, p[2] + high, p[2] + low)) continue;
      const along = g + uz * high;
      const width = r + slope * along;
      lean[2 * at] = ((x - along * ux) / width - slope * ux) * normal;
      lean[2 * at + 1] = ((y - along * uy) / width - slope * uy) * normal;
      facing[at] = ((high - along * uz) / width - slope * uz) * normal;
    }
  }
}

/** Where a row meets the box of a frustum's shadow, and in it the strip, twice as wide as the larger radius, round the line through its ends. */
function shadow(p: Float64Array, q: Float64Array, r: number, s: number): (y: number) => readonly [number, number] {
  const [left, right] = [Math.min(p[0] - r, q[0] - s), Math.max(p[0] + r, q[0] + s)];
  const rise = q[1] - p[1];
  const length = Math.hypot(q[0] - p[0], rise);
  if (Math.abs(rise) < 1e-9 * length || length === 0) return () => [left, right];
  const [run, half] = [(q[0] - p[0]) / rise, (Math.max(r, s) * length) / Math.abs(rise)];
  return (y) => {
    const middle = p[0] + (y - p[1]) * run;
    return [Math.max(left, middle - half), Math.min(right, middle + half)];
  };
}
