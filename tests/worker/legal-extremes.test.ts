import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { exampleEvaluation } from '../../openapi/examples.ts';
import { resolvedInput, result } from '../../openapi/index.ts';
import type { JsonSchema } from '../../openapi/words.ts';
import { evaluate } from '../../worker/engine/index.ts';
import { withValue } from '../openapi/bodies.ts';

type Path = (string | number)[];
interface Extreme {
  path: Path;
  value: number;
}

/** The least and the greatest value of every number below a schema, list items and lists of fixed length included. */
function extremesOf(schema: JsonSchema, root: JsonSchema, path: Path): Extreme[] {
  const name = schema.$ref?.match(/^#\/\$defs\/(.+)$/)?.[1];
  if (name) return extremesOf(root.$defs![name], root, path);
  const inside = [
    ...Object.entries(schema.properties ?? {}).map(([key, member]) => [key, member] as const),
    ...(schema.prefixItems ?? []).map((member, k) => [k, member] as const),
    ...(schema.items ? [[0, schema.items] as const] : []),
  ];
  const limits = [schema.minimum, schema.exclusiveMinimum, schema.maximum, schema.exclusiveMaximum].filter((each) => each !== undefined);
  const own = /number|integer/.test(String(schema.type)) ? limits.map((value) => ({ path, value })) : [];
  const branches = (schema.anyOf ?? []).flatMap((each) => extremesOf(each, root, path));
  return [...own, ...branches, ...inside.flatMap(([key, member]) => extremesOf(member, root, [...path, key]))];
}

/** A coarse ball, few of which fill a chamber, so quick to compute, and every kind of limit there may be. */
const parameterSet = {
  ...exampleEvaluation.input.parameterSet,
  carrier: { shape: 'sphere', outsideDiameterMm: 90 },
  tiling: { kind: 'goldberg', m: 1, n: 0, relaxation: 'none', orientation: 'split-plane' },
  layers: [{ depthMm: 0, strutDiameterMm: 4.5 }],
  links: { pattern: 'none' },
};
const { material } = exampleEvaluation.input;
const base = {
  ...exampleEvaluation.input,
  parameterSet,
  material: {
    ...material,
    directionFactors: { upright: 1, inLayer: 1 },
    strutGrowthMm: { inLayer: 0, upright: 0 },
    calibration: { spreadPct: [{ quantity: 'massProperties.massG', spreadPct: 1 }] },
    byTemperature: [
      { temperatureC: 20, modulusMPa: 60, lossFactor: 0.1 },
      { temperatureC: 40, modulusMPa: 50, lossFactor: 0.1 },
    ],
  },
};
/** Relaxation terms stand in place of a loss factor and of a table by temperature. */
const relaxing = {
  ...base,
  material: { ...material, lossFactor: null, directionFactors: { upright: 1, inLayer: 1 }, relaxation: [{ timeS: 0.01, ratio: 0.5 }] },
};
const inMPa = { ...relaxing, material: { ...relaxing.material, relaxation: [{ timeS: 0.01, modulusMPa: 10 }] } };

const root = z.toJSONSchema(resolvedInput, { io: 'input' }) as JsonSchema;
const recorded = ({ path }: Extreme) => /^(material|buildVolume|reference)\.(?!revision|targets)/.test(path.join('.'));
const limits = extremesOf(root, root, []).filter(recorded);
/** Legal alone, refused for what stands beside: rows by temperature rise, and a branch is softer than the whole. */
const BESIDE = ['material.byTemperature.0.temperatureC = 400', 'material.relaxation.0.modulusMPa = 1000000'];
const extremes = limits.filter(({ path, value }) => !BESIDE.includes(`${path.join('.')} = ${value}`));

/** Every number of the result survives JSON, which has neither NaN nor infinities, and the result keeps to the contract. */
function expectNumbers(input: unknown): void {
  const outcome = evaluate(resolvedInput.parse(input));
  if (outcome.kind !== 'done') expect.fail(JSON.stringify(outcome));
  const whole = { engine: { version: '', inputHash: '' }, ...outcome.result };
  expect(JSON.parse(JSON.stringify(whole))).toEqual(whole);
  expect(result.safeParse(whole).error).toBeUndefined();
}

/** The base in which a path leads to a number. */
const baseOf = ({ path }: Extreme) => (path[1] !== 'relaxation' ? base : path[3] === 'modulusMPa' ? inMPa : relaxing);
const applied = (chosen: readonly Extreme[], from: unknown = base) =>
  chosen.reduce<unknown>((input, { path, value }) => withValue(input, path, value), from);

describe('whatever is legal gives numbers', () => {
  test('every number of a record has two limits', () => {
    const paths = limits.map(({ path }) => path.join('.'));
    expect(new Set(paths).size).toBeGreaterThan(35);
    for (const path of paths) expect(paths.filter((each) => each === path).length, path).toBe(2);
  });

  test.each(extremes.map((each) => [`${each.path.join('.')} = ${each.value}`, each] as const))('%s', (_, extreme) => {
    expectNumbers(applied([extreme], baseOf(extreme)));
  });

  const together = extremes.filter((extreme) => baseOf(extreme) === base);
  test('many extremes at once', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(together, { minLength: 2, maxLength: 40 }), (chosen) => expectNumbers(applied(chosen))),
      { numRuns: 15, seed: 20_261_125 },
    );
  });

  test.each([-1e12, -1e-9, 0, 1e-9, 1e12])('a limit of %s', (limit) => {
    const quantities = ['massG', 'balance.centreOfMassOffsetMm', 'massProperties.principalInertiaGMm2.0', 'totalPerPart'];
    const targets = quantities.flatMap((quantity) => ['min', 'target', 'max'].map((kind) => ({ quantity, [kind]: limit })));
    expectNumbers({ ...base, reference: { ...base.reference, targets } });
  });

  test.each([
    ['the largest ball of the thinnest struts', 1000, [0]],
    ['the smallest ball of the thinnest struts', 5, [0]],
    ['layers down to the centre', 200, [0, 99.8]],
  ])('%s', (_, outsideDiameterMm, depths) => {
    const layers = depths.map((depthMm) => ({ depthMm, strutDiameterMm: 0.05 }));
    const links = layers.length > 1 ? { pattern: 'posts', strutDiameterMm: 0.05 } : { pattern: 'none' };
    expectNumbers({ ...base, parameterSet: { ...parameterSet, carrier: { shape: 'sphere', outsideDiameterMm }, layers, links } });
  });

  const factors = [0.2, 3].flatMap((fromFactor) => [0.2, 3].map((toFactor) => ({ axis: 'x', fromFactor, toFactor })));
  test.each([0.3, 2].flatMap((taper) => factors.map((gradient) => ({ taper, gradient }))))('struts shaped by %j', (shaping) => {
    expectNumbers({ ...base, parameterSet: { ...parameterSet, layers: [{ depthMm: 0, strutDiameterMm: 0.3, ...shaping }] } });
  });
});
