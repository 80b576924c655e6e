import { crc32 } from 'node:zlib';
import { unzlibSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import type { StrutGraph } from '../../worker/engine/lattice/index.ts';
import {
  animation,
  byMark,
  byRole,
  byScale,
  CAMERAS,
  cast,
  contactSheet,
  extentOfAll,
  linearColour,
  MARKED,
  type Moment,
  momentPicture,
  NOTHING,
  picture,
  ROLE_COLOURS,
  type Seen,
  scaleColour,
} from '../../worker/engine/picture/index.ts';
import { latticeOf } from './lattice/samples.ts';

/** A strut along x and, at its ends, spheres of its own width. */
const rod: StrutGraph = {
  nodeCount: 2,
  strutCount: 1,
  xyz: Float64Array.of(-20, 0, 0, 20, 0, 0),
  ends: Int32Array.of(0, 1),
  diameters: Float64Array.of(10, 10),
  roles: new Int32Array(1),
  roleNames: ['rod'],
  nodeRadius: Float64Array.of(5, 5),
};
const cone: StrutGraph = { ...rod, diameters: Float64Array.of(10, 20), nodeRadius: Float64Array.of(5, 10) };

const PIXEL = 0.05;
const look = (graph: StrutGraph, view: keyof typeof CAMERAS, cut = false): Seen =>
  cast(graph, { camera: CAMERAS[view], middle: [0, 0, 0], pixelMm: PIXEL, widthPx: 1400, heightPx: 1400, cut });
const silhouetteMm2 = ({ body }: Seen) => body.reduce((sum, each) => sum + (each === NOTHING ? 0 : 1), 0) * PIXEL * PIXEL;
const at = ({ widthPx, heightPx }: Seen, x: number, y: number) =>
  Math.round(heightPx / 2 - 0.5 - y / PIXEL) * widthPx + Math.round(widthPx / 2 - 0.5 + x / PIXEL);

describe('what a camera sees', () => {
  it('has right, up and the way to the eye at right angles, right-handed, and z up', () => {
    for (const { right, up, toEye } of Object.values(CAMERAS)) {
      const cross = [right[1] * up[2] - right[2] * up[1], right[2] * up[0] - right[0] * up[2], right[0] * up[1] - right[1] * up[0]];
      cross.forEach((x, k) => expect(x).toBeCloseTo(toEye[k], 12));
      expect(Math.hypot(...up)).toBeCloseTo(1, 12);
    }
  });

  // Steps of the raster along an outline of about 100 mm: half a point each way, and they cancel: 0.2 % of these areas.
  it.each([
    ['a rod from the side: rectangle and two half discs', rod, 'front', 40 * 10 + Math.PI * 25],
    ['a rod from its end: a disc', rod, 'side', Math.PI * 25],
    [
      'a rod seen at 36 degrees: shorter',
      rod,
      'corner',
      40 * 10 * Math.hypot(Math.cos(Math.PI / 5), Math.sin(Math.PI / 5) * Math.sin(Math.PI / 8)) + Math.PI * 25,
    ],
    // Tangents of two circles would bulge less than the cone's own sides: trapezium, and what the spheres add outside its ends.
    ['a cone from above', cone, 'top', (40 * (10 + 20)) / 2 + (Math.PI * 25) / 2 + (Math.PI * 100) / 2 + bulgeMm2()],
  ] as const)('%s', (_, graph, view, area) => {
    expect(Math.abs(silhouetteMm2(look(graph, view)) / area - 1)).toBeLessThan(2e-3);
  });

  it('knows body, depth and normal in known places', () => {
    const front = look(rod, 'front');
    const top = at(front, 0.025, 3.025);
    expect(front.body[top]).toBe(0);
    expect(front.depthMm[top]).toBeCloseTo(Math.sqrt(25 - 3.025 ** 2), 4);
    expect(front.facing[top]).toBeCloseTo(Math.sqrt(25 - 3.025 ** 2) / 5, 4);
    expect(front.lean[2 * top + 1]).toBeCloseTo(3.025 / 5, 4);
    expect(front.body[at(front, -24, 0)]).toBe(-1);
    expect(front.body[at(front, 24, 0)]).toBe(-2);
    expect(front.body[at(front, 0, 6)]).toBe(NOTHING);
  });

  it('cut through the middle shows the far half and the face of the cut', () => {
    const seen = look(rod, 'front', true);
    expect(seen.depthMm[at(seen, 0, 2)]).toBe(0);
    expect(silhouetteMm2(seen)).toBeCloseTo(silhouetteMm2(look(rod, 'front')), 6);
  });

  it('has the exact shadow of a ball: every point within a radius of an axis seen from there, and no other', () => {
    const { graph } = latticeOf({ m: 1, n: 0, outsideDiameterMm: 60, layers: [{ depthMm: 0, strutDiameterMm: 4 }] });
    const { right, up } = CAMERAS.corner;
    const seen = look(graph, 'corner');
    const flat = Array.from({ length: graph.nodeCount }, (_, v) =>
      [right, up].map((axis) => axis.reduce((sum, x, k) => sum + x * graph.xyz[3 * v + k], 0)),
    );
    /** Distance to the nearest axis, as a shadow. */
    const distance = (x: number, y: number) => {
      let least = Number.POSITIVE_INFINITY;
      for (let s = 0; s < graph.strutCount; s++) {
        const [[ax, ay], [bx, by]] = [flat[graph.ends[2 * s]], flat[graph.ends[2 * s + 1]]];
        const t = Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2 || 1)));
        least = Math.min(least, Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)));
      }
      return least;
    };
    let [inside, wrong] = [0, 0];
    for (let j = 0; j < seen.heightPx; j += 7) {
      for (let i = 0; i < seen.widthPx; i += 7) {
        const off = distance((i + 0.5 - seen.widthPx / 2) * PIXEL, (seen.heightPx / 2 - 0.5 - j) * PIXEL) - 2;
        const shown = seen.body[j * seen.widthPx + i] !== NOTHING;
        if (shown) inside++;
        if (Math.abs(off) > 1e-9 && shown !== off < 0) wrong++;
      }
    }
    expect(inside).toBeGreaterThan(1000);
    expect(wrong).toBe(0);
  });
});

describe('a lattice, ray by ray', () => {
  // Struts that grow wider, in two layers: much is hidden, much is cut, some are looked at end on.
  const { graph } = latticeOf({
    m: 1,
    n: 1,
    outsideDiameterMm: 40,
    links: { pattern: 'posts', strutDiameterMm: 2 },
    layers: [
      { depthMm: 0, strutDiameterMm: 3 },
      { depthMm: 7, strutDiameterMm: 2 },
    ],
  });
  const widening: StrutGraph = { ...graph, diameters: graph.diameters.map((d, end) => d * (end % 2 ? 1 : 0.6)) };
  const SIDE = 90;
  const pixelMm = 0.5;

  it.each([
    ['corner', false],
    ['corner', true],
    ['front', false],
    ['top', true],
  ] as const)('from the %s (cut: %s) shows what a search along the ray meets first', (view, cut) => {
    const camera = CAMERAS[view];
    const seen = cast(widening, { camera, middle: [0, 0, 0], pixelMm, widthPx: SIDE, heightPx: SIDE, cut });
    let met = 0;
    for (let j = 0; j < SIDE; j += 4) {
      for (let i = 0; i < SIDE; i += 4) {
        const at = j * SIDE + i;
        const foot = camera.right.map((x, k) => x * (i + 0.5 - SIDE / 2) * pixelMm + camera.up[k] * (SIDE / 2 - 0.5 - j) * pixelMm);
        const found = nearestOn(widening, foot, camera.toEye, cut ? 0 : 25);
        if (found === null) {
          expect(seen.body[at]).toBe(NOTHING);
          continue;
        }
        met++;
        // floats of 32 bits near 20 mm are 2e-6 apart; the search ends 1e-8 mm before the surface, up to a hundred times that along a ray that grazes it
        expect(seen.depthMm[at]).toBeCloseTo(found.depth, 5);
        if (cut && found.depth === 0) expect(seen.facing[at]).toBe(2);
        // where surfaces of two bodies meet to within a rounding, either may show; differences over 1e-5 mm tell a normal to about 1e-5
        else if (!found.shared)
          [seen.lean[2 * at], seen.lean[2 * at + 1], seen.facing[at]].forEach((x, k) =>
            expect(x).toBeCloseTo(
              [camera.right, camera.up, camera.toEye][k].reduce((sum, y, n) => sum + y * found.normal[n], 0),
              4,
            ),
          );
      }
    }
    expect(met).toBeGreaterThan(100);
  });
});

/**
 * The nearest depth at which a ray meets a union, told by nothing but distances from axes and centres: no step is longer than the way to the nearest body, for
 * distances change by no more than 1.2 mm a mm (radii by less than 0.2). `shared`: two surfaces are there. null: it meets nothing.
 */
function nearestOn(
  { xyz, ends, diameters, nodeRadius, strutCount }: StrutGraph,
  foot: readonly number[],
  toEye: readonly number[],
  from: number,
) {
  const place = (v: number) => [xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2]];
  const balls = Array.from(nodeRadius, (r, v) => [place(v), place(v), r, r] as const);
  const struts = Array.from({ length: strutCount }, (_, s) => {
    const [p, q] = [place(ends[2 * s]), place(ends[2 * s + 1])];
    return [p, q, diameters[2 * s] / 2, diameters[2 * s + 1] / 2] as const;
  });
  /** Below 0 inside a body; past a strut's ends are balls as wide, which lie in its nodes' spheres. */
  const off = (x: readonly number[], [p, q, r, s]: (typeof balls)[number]): number => {
    const axis = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
    const square = axis[0] ** 2 + axis[1] ** 2 + axis[2] ** 2;
    const along = axis[0] * (x[0] - p[0]) + axis[1] * (x[1] - p[1]) + axis[2] * (x[2] - p[2]);
    const t = square > 0 ? Math.min(1, Math.max(0, along / square)) : 0;
    return Math.hypot(x[0] - p[0] - t * axis[0], x[1] - p[1] - t * axis[1], x[2] - p[2] - t * axis[2]) - r - t * (s - r);
  };
  const bodies = [...balls, ...struts];
  for (let depth = from; depth > -25; ) {
    const x = foot.map((each, k) => each + depth * toEye[k]);
    const least = bodies.reduce((best, body) => Math.min(best, off(x, body)), Number.POSITIVE_INFINITY);
    if (least > 1e-8) {
      depth -= least / 1.2;
      continue;
    }
    const near = bodies.filter((body) => off(x, body) < 1e-4);
    const slope = [0, 1, 2].map((k) => {
      const [a, b] = [1e-5, -1e-5].map((by) => x.map((each, n) => each + (n === k ? by : 0)));
      return off(a, near[0]) - off(b, near[0]);
    });
    return { depth, shared: near.length !== 1, normal: slope.map((each) => each / Math.hypot(...slope)) };
  }
  return null;
}

/** Area by which the larger sphere's half disc, bounded by the plane of its centre, is overlapped by nothing, and the smaller one's bulge through the cone. */
function bulgeMm2(): number {
  // The cone widens from 5 at -20 by 1/8 a mm: inside the trapezium near its narrow end the sphere of radius 5 stays inside. At the wide end the sphere
  // reaches out of the sides between x = 20 - 2 R k / (1 + k^2) and 20, k = 1/8: twice a circular segment over that chord.
  const [R, k] = [10, 1 / 8];
  const angle = 2 * Math.atan(k);
  return (2 * (R * R * (angle - Math.sin(angle)))) / 2;
}

describe('a picture', () => {
  const options = { view: 'front', cut: false, sizePx: 64, colouring: byRole(rod) } as const;

  it('is a PNG of the size asked for, its background white, its part in its colour', () => {
    const bytes = picture(rod, options);
    const view = new DataView(bytes.buffer);
    // [PNG, ISO/IEC 15948: signature, then IHDR; status: from memory]
    expect([...bytes.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
    expect([view.getUint32(16), view.getUint32(20)]).toEqual([64, 64]);
    const length = view.getUint32(33);
    const rows = unzlibSync(bytes.subarray(41, 41 + length));
    const pixels = unfiltered(rows, 64);
    expect([...pixels.subarray(0, 3)]).toEqual([255, 255, 255]);
    const [red, green, blue] = pixels.subarray(3 * (32 * 64 + 32), 3 * (32 * 64 + 32) + 3);
    expect(blue).toBeGreaterThan(green);
    expect(green).toBeGreaterThan(red);
  });

  it('marks the struts that a check points at, and their nodes', () => {
    const { colourOf, legend } = byMark(rod, new Set([0]), new Set(), 'min-gap');
    expect([colourOf(0), colourOf(-1)]).toEqual([MARKED, MARKED]);
    expect(legend.map(({ text }) => text)).toEqual(['min-gap', 'other']);
  });

  it('uses scales that grow in lightness, so that they read without colours', () => {
    const lightness = Array.from({ length: 20 }, (_, k) => {
      const [r, g, b] = linearColour(scaleColour(k / 19));
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    });
    for (let k = 1; k < lightness.length; k++) expect(lightness[k]).toBeGreaterThan(lightness[k - 1]);
    expect(new Set(ROLE_COLOURS.map(String)).size).toBe(ROLE_COLOURS.length);
  });
});

describe('moments of a bounce', () => {
  const SIZE = 140;
  const raised = (byMm: number): Moment => ({
    graph: { ...rod, xyz: rod.xyz.map((x, k) => (k % 3 === 2 ? x + byMm : x)) },
    colouring: byRole(rod),
    caption: `${byMm} mm`,
  });
  const moments = [5, 25].map(raised);
  const extent = extentOfAll(
    rod,
    moments.map(({ graph }) => graph.xyz),
  );
  /** Rows in which the middle column shows the rod's colour, bluer than red; the picture is a line of text lower than wide. */
  const rodIn = (bytes: Uint8Array) => {
    const height = new DataView(bytes.buffer).getUint32(20);
    const pixels = unfiltered(unzlibSync(chunksOf(bytes).find(({ type }) => type === 'IDAT')!.data), SIZE, height);
    const at = (j: number) => [...pixels.subarray(3 * (j * SIZE + SIZE / 2), 3 * (j * SIZE + SIZE / 2) + 3)];
    return { pixels, at, rows: Array.from({ length: height - 40 }, (_, j) => j).filter((j) => at(j)[2] > at(j)[0] + 40) };
  };

  it('all look from one place to one scale, over one floor', () => {
    const [low, high] = moments.map((moment) => rodIn(momentPicture(moment, { extent, sizePx: SIZE })));
    // the rod of 10 mm fills 88 % of the picture with the 50 mm that it reaches across
    const pixelMm = (2 * extent.reach) / (0.88 * SIZE);
    expect(extent.reach).toBe(25);
    for (const { rows } of [low, high]) expect(Math.abs(rows.length - 10 / pixelMm)).toBeLessThanOrEqual(1);
    expect(Math.abs(low.rows[0] - high.rows[0] - 20 / pixelMm)).toBeLessThanOrEqual(1);
    // the floor is where the lower one ends; below it the ground is grey
    const floor = low.rows.at(-1)! + 1;
    expect(low.at(floor)[0]).toBeLessThan(120);
    expect(high.at(floor)).toEqual(low.at(floor));
    expect(high.at(floor + 4)).toEqual([232, 235, 238]);
  });

  it('show the colours of their legend below, to a point', () => {
    // at 400 points the legend of a scale fills its line
    const scale = byScale(rod, [10], 22, '% strain');
    const wide = momentPicture({ ...moments[0], colouring: scale }, { extent, sizePx: 400 });
    const height = new DataView(wide.buffer).getUint32(20);
    const pixels = unfiltered(unzlibSync(chunksOf(wide)[1].data), 400, height);
    const row = height - 16;
    const shown = new Set(
      Array.from({ length: 400 }, (_, i) => String([...pixels.subarray(3 * (row * 400 + i), 3 * (row * 400 + i) + 3)])),
    );
    for (const { colour } of scale.legend) expect(shown).toContain(String([...colour]));
    const ink = ['255,255,255', '27,33,38'];
    expect([...shown].filter((each) => !ink.includes(each))).toHaveLength(scale.legend.length);
  });

  it('side by side are the same pictures', () => {
    const sheet = contactSheet(moments, { extent, sizePx: SIZE, columns: 2 });
    const view = new DataView(sheet.buffer);
    expect(view.getUint32(16)).toBe(2 * SIZE);
    const [wide, one] = [
      unfiltered(unzlibSync(chunksOf(sheet)[1].data), 2 * SIZE, view.getUint32(20)),
      rodIn(momentPicture(moments[1], { extent, sizePx: SIZE })).pixels,
    ];
    for (let j = 0; j < SIZE; j++)
      expect(wide.subarray(3 * (2 * j + 1) * SIZE, 3 * (2 * j + 2) * SIZE)).toEqual(one.subarray(3 * j * SIZE, 3 * (j + 1) * SIZE));
  });

  it('in turn are an animated PNG, its chunks as the third edition has them [W3C, section 11.3.3; status: from memory]', () => {
    const bytes = animation(moments, { extent, sizePx: SIZE, still: 1, delayMs: 80 });
    const chunks = chunksOf(bytes);
    expect(chunks.map(({ type }) => type)).toEqual(['IHDR', 'acTL', 'IDAT', 'fcTL', 'fdAT', 'fcTL', 'fdAT', 'IEND']);
    // the sum of another library over type and data
    for (const { type, data, crc } of chunks) expect(crc).toBe(crc32(Buffer.concat([Buffer.from(type), data])));
    const number = (data: Uint8Array, at = 0) => new DataView(data.buffer, data.byteOffset).getUint32(at);
    expect([number(chunks[1].data), number(chunks[1].data, 4)]).toEqual([2, 0]);
    expect(chunks.slice(3, 7).map(({ data }) => number(data))).toEqual([0, 1, 2, 3]);
    // delay 80 ms, the last eight times as long; over what was there
    expect(chunks.filter(({ type }) => type === 'fcTL').map(({ data }) => [...data.subarray(20)])).toEqual([
      [0, 80, 1000 >> 8, 1000 & 255, 0, 0],
      [640 >> 8, 640 & 255, 1000 >> 8, 1000 & 255, 0, 0],
    ]);
    const frames = chunks.filter(({ type }) => type === 'fdAT').map(({ data }) => unzlibSync(data.subarray(4)));
    expect(frames[1]).toEqual(unzlibSync(chunks[2].data));
    expect(frames[0]).not.toEqual(frames[1]);
  });
});

/** The chunks of a PNG, from its signature to its end. */
function chunksOf(bytes: Uint8Array): { type: string; data: Uint8Array; crc: number }[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  const chunks: { type: string; data: Uint8Array; crc: number }[] = [];
  for (let at = 8; at < bytes.length; ) {
    const length = view.getUint32(at);
    const type = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    chunks.push({ type, data: bytes.subarray(at + 8, at + 8 + length), crc: view.getUint32(at + 8 + length) });
    at += 12 + length;
  }
  return chunks;
}

/** Rows of differences from the row above, as pixels. */
function unfiltered(rows: Uint8Array, size: number, high = size): Uint8Array {
  const pixels = new Uint8Array(3 * size * high);
  for (let j = 0; j < high; j++) {
    expect(rows[j * (3 * size + 1)]).toBe(2);
    for (let i = 0; i < 3 * size; i++)
      pixels[3 * size * j + i] = rows[j * (3 * size + 1) + 1 + i] + (j > 0 ? pixels[3 * size * (j - 1) + i] : 0);
  }
  return pixels;
}
