import { describe, expect, it } from 'vitest';
import { chain, clamp, type Section } from './large-rotation.ts';
import { along, outOfPlane, type Path, pathOf, toFactor, toPlace } from './path.ts';

const RIGID = 1e12;
/** Factor at the vertex of the parabola through three points (place, factor), and the place. */
function vertex(points: readonly (readonly [number, number])[]): [number, number] {
  const [[a, fa], [b, fb], [c, fc]] = points;
  const [s, t] = [(fb - fa) / (b - a), (fc - fb) / (c - b)];
  const bend = (t - s) / (c - a);
  const x = (a + b) / 2 - s / (2 * bend);
  return [x, fa + s * (x - a) + bend * (x - a) * (x - b)];
}

describe('end moment', () => {
  it('rolls a cantilever up to a circle: x = sin k / k, y = (1 - cos k) / k', () => {
    const count = 20;
    const section: Section = { EA: 1e4, GA: RIGID, GJ: 1, EI2: 1, EI3: 1 };
    const frame = chain(
      Array.from({ length: count + 1 }, (_, k) => [k / count, 0, 0]),
      section,
      [0, 0, 1],
    );
    const path = pathOf(frame, [...clamp(0), ...outOfPlane(count + 1)], new Map([[6 * count + 5, 1]]));
    for (let k = 1; k <= 16; k++) {
      const curl = (k * Math.PI) / 8;
      toFactor(path, curl);
      const [x, y] = path.placement.positions.subarray(3 * count);
      // Elements of 18 degrees each: the chord of a bow is exact to its fourth power, 5e-6.
      expect(Math.abs(x - Math.sin(curl) / curl)).toBeLessThan(2e-5);
      expect(Math.abs(y - (1 - Math.cos(curl)) / curl)).toBeLessThan(2e-5);
    }
  });
});

describe('45-degree bend', () => {
  /** Tip of an arc of radius 100 under an out-of-plane load; 1 x 1 section, E 1e7, nu 0 (Bathe & Bolourchi 1979). */
  function tip(elements: number, loads: readonly number[]): number[][] {
    const places = Array.from({ length: elements + 1 }, (_, k) => {
      const angle = (k * Math.PI) / 4 / elements;
      return [100 * Math.sin(angle), 100 * (1 - Math.cos(angle)), 0];
    });
    const frame = chain(places, { EA: 1e7, GA: 41.667e5, GJ: 8.3333e5, EI2: 8.3333e5, EI3: 8.3333e5 }, [0, 0, 1]);
    const path = pathOf(frame, clamp(0), new Map([[6 * elements + 2, 1]]));
    return loads.flatMap((load) => {
      for (const part of [1, 0.75, 0.5, 0.25].map((rest) => load - 150 * rest + 37.5)) if (part > path.factor) toFactor(path, part);
      toFactor(path, load);
      return [[...path.placement.positions.subarray(3 * elements)]];
    });
  }
  /** Shooting on the equations of a geometrically exact rod, checked against Castigliano's theorem at small load. */
  const EXACT = [
    [58.779, 22.245, 40.192],
    [52.238, 18.508, 48.503],
    [47.15, 15.685, 53.475],
  ];

  it('goes where a geometrically exact rod goes, within the spread of what is published', () => {
    tip(8, [300, 450, 600]).forEach((place, load) => {
      // The window +-0.35 covers all published results (Simo & Vu-Quoc 1986, Cardona & Geradin, Crisfield; from memory).
      place.forEach((x, k) => expect(Math.abs(x - EXACT[load][k])).toBeLessThan(0.35));
    });
  });

  it('converges with the square of the element size', () => {
    const errors = [4, 8, 16].map((count) => {
      const [place] = tip(count, [300]);
      return Math.hypot(...place.map((x, k) => x - EXACT[0][k]));
    });
    // Chords stand for arcs.
    expect(errors[0] / errors[1]).toBeGreaterThan(3.3);
    expect(errors[1] / errors[2]).toBeGreaterThan(3.3);
  });
});

describe("Lee's frame", () => {
  const EI = 14.4e6;
  const unit = EI / 120 ** 2;
  const count = 10;
  /** Two legs of 120, pinned at both ends; load down on the beam, a fifth of it from the corner. */
  function leesFrame(): Path {
    const column = Array.from({ length: count }, (_, k) => [0, (120 * k) / count, 0]);
    const beam = Array.from({ length: count + 1 }, (_, k) => [(120 * k) / count, 120, 0]);
    const places = [...column, ...beam];
    const frame = chain(places, { EA: 43.2e6, GA: RIGID, GJ: 1, EI2: EI, EI3: EI }, [0, 0, 1]);
    const last = places.length - 1;
    return pathOf(frame, [0, 1, 6 * last, 6 * last + 1, ...outOfPlane(places.length)], new Map([[6 * (count + 2) + 1, -unit]]));
  }
  const node = count + 2;
  const v = 6 * node + 1;
  const moved = ({ placement: { positions } }: Path) => [positions[3 * node] - 24, positions[3 * node + 1] - 120];

  it('follows the path to its first limit point', () => {
    const path = leesFrame();
    // Path of the exact equations with axial strain, computed: v, P L^2 / EI, u.
    const points = [
      [10, 9.633, 1.711],
      [20, 13.456, 5.257],
      [30, 15.951, 10.342],
      [40, 17.801, 17.581],
      [48, 18.544, 25.945],
    ];
    for (const [down, load, right] of points) {
      for (let rest = 3; rest >= 0; rest--) toPlace(path, v, 120 - down + 2 * rest);
      expect(Math.abs(path.factor / load - 1)).toBeLessThan(5e-3);
      expect(Math.abs(moved(path)[0] / right - 1)).toBeLessThan(5e-3);
    }
    const near = [48.2, 48.7, 49.2].map((down): [number, number] => {
      toPlace(path, v, 120 - down);
      return [down, path.factor];
    });
    const [down, load] = vertex(near);
    // Demanded: within 0.5 %. (The literature has 18.532, from memory.)
    expect(Math.abs(load / 18.557 - 1)).toBeLessThan(5e-3);
    expect(Math.abs(down / 48.73 - 1)).toBeLessThan(5e-3);
  });

  it('passes the points where the deflection turns and the second limit point', () => {
    const path = leesFrame();
    const points: { load: number; u: number; v: number }[] = [];
    while (points.length < 300 && (points.at(-1)?.u ?? 0) < 92) {
      along(path, 4, 10);
      const [u, v] = moved(path);
      points.push({ load: path.factor, u, v });
    }
    const lowest = (value: (point: (typeof points)[number]) => number) =>
      points.reduce((low, each, k) => (value(each) < value(points[low]) ? k : low), 0);
    const limit = lowest(({ load }) => load);
    const [right, load] = vertex(points.slice(limit - 1, limit + 2).map((each) => [each.u, each.load] as const));
    expect(Math.abs(load / -9.41 - 1)).toBeLessThan(5e-3);
    expect(Math.abs(right / 90.46 - 1)).toBeLessThan(5e-3);
    const turns = points.map((_, k) => k).filter((k) => k > 0 && (points[k].v - points[k - 1].v) * (points[k + 1]?.v - points[k].v) < 0);
    const [first, second] = turns;
    for (const [k, at, down, force] of [
      [first, 61.43, -61, 12.06],
      [second, 81.23, -50.75, -4.388],
    ]) {
      const near = points.slice(k - 1, k + 2);
      const [u, v] = vertex(near.map((each) => [each.u, each.v] as const));
      const [a, b] = u < near[1].u ? near : near.slice(1);
      const there = a.load + ((b.load - a.load) * (u - a.u)) / (b.u - a.u);
      expect(Math.abs(v / down - 1)).toBeLessThan(5e-3);
      // Where it turns lies less sharply than how far it goes: points are 2 to 3 apart.
      expect(Math.abs(u / at - 1)).toBeLessThan(1e-2);
      // The load is steep here: read on a chord.
      expect(Math.abs(there - force)).toBeLessThan(0.02 * 18.557);
    }
  });
});

describe('Williams toggle', () => {
  const [half, rise, count] = [12.943, 0.386, 8];
  function toggle(): Path {
    const places = Array.from({ length: 2 * count + 1 }, (_, k) => [(half * k) / count, rise * (1 - Math.abs(k / count - 1)), 0]);
    const frame = chain(places, { EA: 1.885e6, GA: RIGID, GJ: 1, EI2: 9.27e3, EI3: 9.27e3 }, [0, 0, 1]);
    return pathOf(frame, [...clamp(0), ...clamp(2 * count), ...outOfPlane(places.length)], new Map([[6 * count + 1, -1]]));
  }
  const at = (path: Path, w: number) => {
    toPlace(path, 6 * count + 1, rise - w);
    return path.factor;
  };

  it('carries what the exact beam carries, snaps at its limit and stiffens again', () => {
    const path = toggle();
    const table = [
      [0.1, 25.2],
      [0.2, 33.49],
      [0.3, 32.83],
      [0.4, 31.28],
      [0.5, 36.07],
      [0.6, 53.29],
      [0.7, 88.16],
    ];
    for (const [w, load] of table) {
      at(path, w - 0.05);
      expect(Math.abs(at(path, w) / load - 1)).toBeLessThan(2e-3);
    }
    const again = toggle();
    for (const [w, thrust] of [
      [0.1, 365],
      [0.3, 673],
    ]) {
      at(again, w);
      // Printed to three digits.
      expect(Math.abs(Math.abs(again.gradient[0]) - thrust)).toBeLessThan(1);
    }
    at(again, 0.1);
    const limit = vertex([0.22, 0.2324, 0.245].map((w) => [w, at(again, w)] as const));
    const least = vertex([0.38, 0.3914, 0.4].map((w) => [w, at(again, w)] as const));
    expect(Math.abs(limit[1] / 33.862 - 1)).toBeLessThan(2e-3);
    expect(Math.abs(limit[0] / 0.2324 - 1)).toBeLessThan(0.01);
    expect(Math.abs(least[1] / 31.263 - 1)).toBeLessThan(2e-3);
    expect(Math.abs(least[0] / 0.3914 - 1)).toBeLessThan(0.01);
  });
});

describe('shallow truss of two bars', () => {
  it('snaps through as its closed form says: P = 2 EA (a/L)^3 (u/a + 1.5 (u/a)^2 + 0.5 (u/a)^3)', () => {
    const [span, rise] = [100, 1];
    const L = Math.hypot(span, rise);
    // One bar, whose top only moves up and down and turns freely, carries half of the load.
    const frame = chain(
      [
        [-span, 0, 0],
        [0, rise, 0],
      ],
      { EA: 1e6, GA: RIGID, GJ: 1, EI2: 1e-3, EI3: 1e-3 },
      [0, 0, 1],
    );
    const start = () => pathOf(frame, [0, 1, 6, ...outOfPlane(2)], new Map([[7, 0.5]]));
    const path = start();
    const scale = 2e6 * (rise / L) ** 3;
    for (let k = 1; k <= 24; k++) {
      const u = -k / 12;
      toPlace(path, 7, rise * (1 + u));
      // The closed form leaves out (a / L)^2 = 1e-4.
      expect(Math.abs(path.factor / scale - (u + 1.5 * u * u + 0.5 * u ** 3))).toBeLessThan(2e-4);
    }
    for (const [u, load] of [
      [-0.42265, -0.38490018 / 2],
      [-1.57735, 0.38490018 / 2],
    ]) {
      const again = start();
      const [x, extreme] = vertex(
        [-0.02, 0, 0.02].map((more) => {
          toPlace(again, 7, rise * (1 + u + more));
          return [u + more, again.factor / scale] as const;
        }),
      );
      expect(Math.abs(x - u)).toBeLessThan(1e-3);
      expect(Math.abs(extreme - load)).toBeLessThan(1e-4);
    }
  });
});

describe('ring under two opposite forces', () => {
  /** Closing and widening over R at P R^2 / EI, the exact inextensible ring, computed. */
  const COMPRESSED = [
    [0.1, 0.01505, 0.01372],
    [0.25, 0.03828, 0.03449],
    [0.5, 0.0788, 0.06958],
    [1, 0.16694, 0.14122],
    [1.5, 0.26508, 0.21396],
    [2, 0.37353, 0.28651],
    [3, 0.62026, 0.42439],
    [4, 0.89871, 0.54049],
  ];
  const PULLED = [
    [0.5, 0.07027, 0.06687],
    [1, 0.13288, 0.13064],
    [2, 0.23858, 0.24824],
    [4, 0.39204, 0.44516],
  ];
  /** A quarter of it: cut at the top, which only moves down, and at the side, which only moves out; half the force is on the quarter. */
  function ring(elements: number): { path: Path; closing: () => number; widening: () => number } {
    const places = Array.from({ length: elements + 1 }, (_, k) => {
      const angle = (k * Math.PI) / 2 / elements;
      return [Math.sin(angle), Math.cos(angle), 0];
    });
    const frame = chain(places, { EA: 1e5, GA: RIGID, GJ: 1, EI2: 1, EI3: 1 }, [0, 0, 1]);
    const path = pathOf(frame, [0, 5, 6 * elements + 1, 6 * elements + 5, ...outOfPlane(places.length)], new Map([[1, -0.5]]));
    const { positions } = path.placement;
    return { path, closing: () => 2 * (1 - positions[1]), widening: () => 2 * (positions[3 * elements] - 1) };
  }

  it('closes and widens as the exact ring does, far beyond linear statics', () => {
    for (const [sign, table] of [
      [1, COMPRESSED],
      [-1, PULLED],
    ] as const) {
      const { path, closing, widening } = ring(24);
      for (const [load, first, second] of table) {
        toFactor(path, sign * load);
        expect(Math.abs((sign * closing()) / first - 1)).toBeLessThan(5e-3);
        expect(Math.abs((sign * widening()) / second - 1)).toBeLessThan(5e-3);
      }
    }
  });

  it('converges with the square of the element size', () => {
    const errors = [6, 12, 24].map((count) => {
      const { path, closing } = ring(count);
      for (const load of [0.5, 1, 2]) toFactor(path, load);
      return closing() - 0.37353;
    });
    expect(errors[0] / errors[1]).toBeGreaterThan(3.3);
    expect(errors[1] / errors[2]).toBeGreaterThan(3.3);
  });
});

describe("Newton's steps", () => {
  it('converge quadratically with the exact tangent', () => {
    const count = 8;
    const places = Array.from({ length: count + 1 }, (_, k) => [k / count, 0, 0]);
    const path = pathOf(chain(places, { EA: 1e4, GA: RIGID, GJ: 1, EI2: 1, EI3: 1 }, [0, 0, 1]), clamp(0), new Map([[6 * count + 2, -1]]));
    toFactor(path, 1);
    toFactor(path, 1.1);
    // A tangent that is off by a percent would gain two digits in a step; this one doubles their number.
    const [before, after] = path.residuals.slice(-2);
    expect(after).toBeLessThan(1e-4 * before);
  });
});
