import { settleBuildOptions } from './build-options.ts';
import type { BuildVolume, InlineBuildVolume } from './build-volume.ts';
import { BUILD_VOLUMES, MATERIALS, REFERENCES } from './catalogue/index.ts';
import type { EvaluationInput, ResolvedInput } from './evaluation.ts';
import type { Validated } from './field-errors.ts';
import type { InlineMaterial, Material } from './material.ts';
import { settle } from './parameter-set.ts';
import type { FieldError } from './problems.ts';
import type { InlineReference, Reference } from './reference.ts';
import { nameList } from './words.ts';

type Awaitable<T> = T | Promise<T>;
export type RecordKind = 'material' | 'buildVolume' | 'reference';

/** Where records are found by key: the newest revision of each, or undefined. `keys` is asked only to tell what would have been found. */
export interface Lookup {
  material(key: string): Awaitable<Material | undefined>;
  buildVolume(key: string): Awaitable<BuildVolume | undefined>;
  reference(key: string): Awaitable<Reference | undefined>;
  keys(kind: RecordKind): Awaitable<readonly string[]>;
}

const CATALOGUE = { material: MATERIALS, buildVolume: BUILD_VOLUMES, reference: REFERENCES };

/** The built-in records alone. */
export const catalogueLookup: Lookup = {
  material: (key) => MATERIALS.find((each) => each.key === key),
  buildVolume: (key) => BUILD_VOLUMES.find((each) => each.key === key),
  reference: (key) => REFERENCES.find((each) => each.key === key),
  keys: (kind) => CATALOGUE[kind].map((each) => each.key),
};

/** What a stored record says besides what goes into an input. */
interface Beside {
  builtIn: boolean;
  measurements?: unknown;
  band?: unknown;
  estimates?: unknown;
}

/** A stored record as it goes into an input: where it comes from, how it was measured and what was estimated are no part of it. */
function inline<T extends Beside>({ builtIn: _, measurements: __, band: ___, estimates: ____, ...rest }: T): Omit<T, keyof Beside> {
  return rest;
}

async function unknownKey(kind: RecordKind, key: string, look: Lookup): Promise<FieldError> {
  const keys = await look.keys(kind);
  return { pointer: `/${kind}`, value: key, detail: `is ${JSON.stringify(key)}, which is not known; allowed: ${nameList(keys)}` };
}

/** A record named by its key, as it goes into an input, or as it was given; a key that is not found is noted among the errors. */
async function find<T extends Beside, I>(
  kind: RecordKind,
  given: string | I,
  { look, get, errors }: { look: Lookup; get: (key: string) => Awaitable<T | undefined>; errors: FieldError[] },
) {
  if (typeof given !== 'string') return given;
  const record = await get(given);
  if (record) return inline(record);
  errors.push(await unknownKey(kind, given, look));
  return undefined;
}

type Named = Pick<EvaluationInput, 'material' | 'buildVolume'>;

/**
 * Powder and machine, each key replaced by the record it names, with the revision that is used. Fails with one field error per key that is not
 * found, which lists the keys that are, or when the two are priced in two currencies.
 */
export async function resolveMaking(
  input: Named,
  look: Lookup,
): Promise<Validated<{ material: InlineMaterial; buildVolume: InlineBuildVolume }>> {
  const errors: FieldError[] = [];
  const material = await find<Material, InlineMaterial>('material', input.material, { look, get: look.material, errors });
  const buildVolume = await find<BuildVolume, InlineBuildVolume>('buildVolume', input.buildVolume, { look, get: look.buildVolume, errors });
  if (!material || !buildVolume) return { ok: false, errors };
  const [powder, machine] = [material.pricePerKg.currency, buildVolume.hourlyRate.currency];
  if (powder === machine) return { ok: true, value: { material, buildVolume } };
  const detail = `is ${JSON.stringify(machine)}, while the material is priced in ${powder}; allowed: one currency for both`;
  return { ok: false, errors: [{ pointer: '/buildVolume/hourlyRate/currency', value: machine, detail }] };
}

/** The same for a whole checked input. `version`: the number of the one named. */
export async function resolveInput(input: EvaluationInput, look: Lookup, version: number | null = null): Promise<Validated<ResolvedInput>> {
  const errors: FieldError[] = [];
  const reference = input.reference
    ? await find<Reference, InlineReference>('reference', input.reference, { look, get: look.reference, errors })
    : null;
  const making = await resolveMaking(input, look);
  if (!making.ok || reference === undefined) return { ok: false, errors: [...(making.ok ? [] : making.errors), ...errors] };
  const { material, buildVolume } = making.value;
  const beyond = temperatureRefusal(material, input.tests.temperatureC);
  if (beyond) return { ok: false, errors: [beyond] };
  if (input.build?.mark === 'version' && version === null) {
    const detail = 'is "version", but none is named by versionId; allowed: a whole number from 1 to 16777216';
    return { ok: false, errors: [{ pointer: '/build/mark', value: 'version', detail }] };
  }
  const build = settleBuildOptions(input.build, version);
  const value = { parameterSet: settle(input.parameterSet), material, buildVolume, reference, tests: input.tests };
  return { ok: true, value: build ? { ...value, build } : value };
}

/** A temperature is known where the material's table has it, or where its values hold. */
function temperatureRefusal({ byTemperature: rows, temperatureC: own }: InlineMaterial, asked: number | undefined): FieldError | null {
  if (asked === undefined || asked === own) return null;
  const [least, most] = [rows?.[0].temperatureC, rows?.at(-1)?.temperatureC];
  if (least !== undefined && most !== undefined && asked >= least && asked <= most) return null;
  const none = `leave it out${typeof own === 'number' ? `, or ${own}, which the material's values hold for` : ''}`;
  const allowed = rows
    ? `at least ${least}, at most ${most}, the range of the material's table`
    : `${none}; the material has no table by temperature`;
  return { pointer: '/tests/temperatureC', value: asked, detail: `is ${asked}; allowed: ${allowed}` };
}
