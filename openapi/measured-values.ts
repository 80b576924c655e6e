import type { Validated } from './field-errors.ts';
import { type CurvePoint, forceAt, initialSlope } from './force-deflection.ts';
import type { MeasuredQuantity } from './measured-quantities.ts';
import type { FieldError } from './problems.ts';
import { shown } from './shown.ts';
import type { MeasuredValues, TestMeasurementBody } from './test-measurement.ts';
import { celsius, converted, DURATION, FORCE, LENGTH, MASS, tidy } from './units.ts';

/** What a reading can be at all, in the unit that is kept: beyond it the unit was mistaken, or a digit slipped. */
const POSSIBLE: Readonly<Record<MeasuredQuantity | 'dropHeightMm' | 'rollDistanceMm', readonly [number, number]>> = {
  massG: [0.001, 1e6],
  outsideDiameterMm: [0.1, 10_000],
  circumferenceMm: [0.1, 30_000],
  roundnessMm: [0, 1000],
  outOfRoundMm: [0, 1000],
  stiffnessNPerMm: [1e-6, 1e9],
  initialNPerMm: [1e-6, 1e9],
  reboundHeightMm: [0, 20_000],
  restitution: [0, 1],
  contactTimeMs: [0.001, 1e5],
  peakForceN: [0.001, 1e7],
  centreOfMassOffsetMm: [0, 1000],
  rollDeviationMm: [0, 1e5],
  cyclesToFailure: [0, 1e12],
  cyclesSurvived: [0, 1e12],
  dropHeightMm: [1, 20_000],
  rollDistanceMm: [1, 1e6],
};
/** Share of the outside diameter over which the initial slope is taken. */
const FIRST_PERCENT = 0.01;

type Part = { outsideDiameterMm: number };
type Path = readonly (string | number)[];
/** Notes what is wrong with a value of the body. */
type Refuse = (path: Path, value: unknown, detail: string) => void;
type Of<K extends TestMeasurementBody['kind']> = Extract<TestMeasurementBody, { kind: K }>;

/** Converts the readings of a list, each checked against what is possible. */
function reader<U extends Record<string, number>>(units: U, unit: keyof U & string, refuse: Refuse) {
  const kept = Object.keys(units).find((each) => units[each] === 1)!;
  return (name: keyof typeof POSSIBLE, path: Path, value: number): number => {
    const [least, most] = POSSIBLE[name];
    const here = converted(value, unit, units);
    if (here < least || here > most) {
      const given = unit === kept ? `is ${value} ${kept}` : `is ${value} ${unit}, which is ${here} ${kept}`;
      refuse(path, value, `${given}; allowed: ${least} to ${most} ${kept}`);
    }
    return here;
  };
}

const listed = (body: { values: number[] }, name: MeasuredQuantity, read: ReturnType<typeof reader>) => ({
  [name]: body.values.map((value, k) => read(name, ['values', k], value)),
});

/** Mean diameter of each axis; from two axes on, half of what they differ by: what is out of round as two-point readings see it. */
function diameters({ unit, axes }: Of<'diameter'>, refuse: Refuse): MeasuredValues['quantities'] {
  const read = reader(LENGTH, unit, refuse);
  const names = axes.map(({ axis }) => axis);
  const means = axes.map(({ axis, values }, k) => {
    if (names.indexOf(axis) < k) refuse(['axes', k, 'axis'], axis, `is ${JSON.stringify(axis)}, named twice; allowed: each axis once`);
    const here = values.map((value, at) => read('outsideDiameterMm', ['axes', k, 'values', at], value));
    return here.reduce((sum, value) => sum + value, 0) / here.length;
  });
  const outOfRound = tidy((Math.max(...means) - Math.min(...means)) / 2);
  return { outsideDiameterMm: means, ...(means.length > 1 && { outOfRoundMm: [outOfRound] }) };
}

/** Secant and initial slope of each curve, as the engine takes them of a computed one. */
function stiffness({ unit, forceUnit, curves, secantAtPct }: Of<'compression'>, { outsideDiameterMm }: Part, refuse: Refuse) {
  const atMm = (secantAtPct / 100) * outsideDiameterMm;
  const [secants, slopes]: [number[], number[]] = [[], []];
  for (const [k, given] of curves.entries()) {
    const curve = given.map(([d, f]): CurvePoint => [converted(d, unit, LENGTH), converted(f, forceUnit, FORCE)]);
    const back = curve.findIndex(([d], at) => at > 0 && d <= curve[at - 1][0]);
    if (back > 0) {
      refuse(
        ['curves', k, back, 0],
        given[back][0],
        `is ${given[back][0]}; allowed: more than the deflection before it, ${given[back - 1][0]}`,
      );
      continue;
    }
    const force = forceAt(curve, atMm);
    if (force === null || force <= 0) {
      const needed = `allowed: a curve that holds ${atMm.toPrecision(6)} mm (${secantAtPct} % of ${outsideDiameterMm} mm), with a force there`;
      refuse(['curves', k], undefined, `goes from ${curve[0][0]} to ${curve.at(-1)![0]} mm; ${needed}`);
      continue;
    }
    secants.push(force / atMm);
    const slope = initialSlope(curve, FIRST_PERCENT * outsideDiameterMm);
    if (slope !== null) slopes.push(slope);
  }
  return { stiffnessNPerMm: secants, ...(slopes.length > 0 && { initialNPerMm: slopes }) };
}

/** Height of the first bounce of each drop, and sqrt(h2 / h1); of all bounces by themselves. */
function rebound({ unit, dropHeight, drops }: Of<'rebound'>, refuse: Refuse): MeasuredValues {
  const read = reader(LENGTH, unit, refuse);
  const dropHeightMm = read('dropHeightMm', ['dropHeight'], dropHeight);
  const heights = drops.map(({ bounces }, k) =>
    bounces.map((height, at) => {
      const before = at === 0 ? dropHeight : bounces[at - 1];
      if (height > before) refuse(['drops', k, 'bounces', at], height, `is ${height}; allowed: at most the height before it, ${before}`);
      return read('reboundHeightMm', ['drops', k, 'bounces', at], height);
    }),
  );
  const byBounce = heights.map((each) => each.map((height, at) => (height > 0 ? Math.sqrt(height / (each[at - 1] ?? dropHeightMm)) : 0)));
  return {
    quantities: { reboundHeightMm: heights.map(([first]) => first), restitution: byBounce.map(([first]) => first) },
    conditions: { dropHeightMm },
    restitutionByBounce: byBounce,
  };
}

function valuesOf(body: TestMeasurementBody, part: Part, refuse: Refuse): MeasuredValues {
  const alone = (quantities: MeasuredValues['quantities']) => ({ quantities, conditions: {} });
  switch (body.kind) {
    case 'mass':
      return alone(listed(body, 'massG', reader(MASS, body.unit, refuse)));
    case 'circumference':
      return alone(listed(body, 'circumferenceMm', reader(LENGTH, body.unit, refuse)));
    case 'diameter':
      return alone(diameters(body, refuse));
    case 'roundness':
      return alone(listed(body, 'roundnessMm', reader(LENGTH, body.unit, refuse)));
    case 'compression':
      return { quantities: stiffness(body, part, refuse), conditions: { secantAtPct: body.secantAtPct } };
    case 'rebound':
      return rebound(body, refuse);
    case 'contact-time':
      return alone(listed(body, 'contactTimeMs', reader(DURATION, body.unit, refuse)));
    case 'peak-force':
      return alone(listed(body, 'peakForceN', reader(FORCE, body.unit, refuse)));
    case 'balance':
      return alone(listed(body, 'centreOfMassOffsetMm', reader(LENGTH, body.unit, refuse)));
    case 'roll': {
      const read = reader(LENGTH, body.unit, refuse);
      const rollDistanceMm = read('rollDistanceMm', ['distance'], body.distance);
      return { quantities: listed(body, 'rollDeviationMm', read), conditions: { rollDistanceMm } };
    }
    case 'durability':
      return alone({ [body.cracked ? 'cyclesToFailure' : 'cyclesSurvived']: [body.count] });
  }
}

/**
 * The readings of a test in the units the service keeps, for a part of this outside diameter as designed. Errors: readings that cannot be,
 * curves that do not reach the secant, bounces higher than the drop.
 */
export function measuredValuesOf(body: TestMeasurementBody, part: Part): Validated<MeasuredValues> {
  const errors: FieldError[] = [];
  const refuse: Refuse = (path, value, detail) => {
    errors.push({ pointer: path.map((key) => `/${key}`).join(''), value: shown(value), detail });
  };
  const { conditions, ...values } = valuesOf(body, part, refuse);
  if (errors.length > 0) return { ok: false, errors: errors.slice(0, 50) };
  const temperatureC = body.temperature ? { temperatureC: celsius(body.temperature) } : {};
  return { ok: true, value: { ...values, conditions: { ...conditions, ...temperatureC } } };
}
