import {
  type AcceptanceInput,
  type AcceptanceOutcome,
  type AcceptanceVerdict,
  finishingOf,
  type JudgedDurability,
  type JudgedTarget,
  type MeasuredQuantity,
  measuredQuantityOf,
  type Reference,
} from '../openapi/index.ts';
import type { MeasurementRecord } from '../prisma/index.ts';
import { type Claim, exactBounds, furtherParts, intervalFactor, judged, trialsFor } from '../worker/engine/probability/index.ts';
import { evidenceOf, summaryOf } from './evidence.ts';

/** Where the secant of a reference's stiffness is taken, as no reference names another point. */
const SECANT_AT_PCT = 10;
/** Trials in all beyond which no number of further ones is told. */
const MOST_TRIALS = 10_000;
/** Of a limit in words; the number itself stands beside them. */
const DIGITS = 6;

type Target = Reference['targets'][number];
type Judged = Pick<AcceptanceOutcome, 'targets' | 'unjudged' | 'durability'> & { verdict: AcceptanceVerdict };

const hasBand = ({ min, max }: Target) => min !== undefined || max !== undefined;
/** Targets that a test can decide. */
export const judgeable = ({ targets }: Pick<Reference, 'targets'>): { target: Target; quantity: MeasuredQuantity }[] =>
  targets.flatMap((target) => {
    const quantity = measuredQuantityOf(target.quantity);
    return quantity !== null && hasBand(target) ? [{ target, quantity }] : [];
  });

/** The measurements of parts that the question is about. */
export const meant = (records: readonly MeasurementRecord[], { material, finishing }: AcceptanceInput): MeasurementRecord[] =>
  records.filter(
    ({ print }) =>
      (material === undefined || print.material.key === material) && (finishing === undefined || finishingOf(print) === finishing),
  );

/** What the measurements say of every target of the reference, and of durability; the verdict is the worst of them. */
export function judge(input: AcceptanceInput, reference: Reference, records: readonly MeasurementRecord[]): Judged {
  const known = judgeable(reference);
  const conditions = { secantAtPct: SECANT_AT_PCT, dropHeightMm: reference.dropHeightMm ?? undefined };
  const targets = known.map(({ target, quantity }) =>
    judgedTarget(input, target, { quantity, evidence: evidenceOf(records, quantity, conditions) }),
  );
  const durability = input.durability && judgedDurability(input.durability, input.confidencePct, records);
  const unjudged = reference.targets.filter((each) => !known.some(({ target }) => target === each)).map(({ quantity }) => quantity);
  const verdicts = [...targets, ...(durability ? [durability] : [])].map(({ verdict }) => verdict);
  return { targets, unjudged, durability, verdict: worst(verdicts) };
}

const worst = (verdicts: readonly AcceptanceVerdict[]): AcceptanceVerdict =>
  verdicts.includes('rejected') ? 'rejected' : verdicts.includes('needs-more') ? 'needs-more' : 'accepted';

interface Found {
  quantity: MeasuredQuantity;
  evidence: ReturnType<typeof evidenceOf>;
}

function judgedTarget(input: AcceptanceInput, target: Target, { quantity, evidence }: Found): JudgedTarget {
  const limits = { min: target.min ?? null, max: target.max ?? null };
  const claim: Claim = { p: input.statement === 'parts' ? input.coveragePct / 100 : null, confidence: input.confidencePct / 100 };
  const statement = statementOf(input, limits);
  const measured = evidence.parts.length > 0 ? summaryOf(evidence) : null;
  const common = { quantity, ...limits, statement, measured };
  if (!measured || measured.deviation === null)
    return { ...common, verdict: 'needs-more', more: 2 - (measured?.prints ?? 0), interval: null };
  const { mean, deviation, prints: n } = measured;
  const sample = { n, mean, deviation };
  const judgement = judged(sample, limits, claim);
  const factor = intervalFactor(n, limits, claim);
  return {
    ...common,
    verdict: judgement === 'open' ? 'needs-more' : judgement,
    more: judgement === 'open' ? furtherParts(sample, limits, claim) : null,
    interval: {
      from: limits.min === null ? null : mean - factor * deviation,
      to: limits.max === null ? null : mean + factor * deviation,
      factor,
    },
  };
}

function statementOf({ statement, coveragePct, confidencePct }: AcceptanceInput, { min, max }: { min: number | null; max: number | null }) {
  const [from, to] = [min, max].map((limit) => (limit === null ? null : Number(limit.toPrecision(DIGITS))));
  const band = from === null ? `at most ${to}` : to === null ? `at least ${from}` : `within ${from} to ${to}`;
  const what = statement === 'parts' ? `${coveragePct} % of parts ${band}` : `the mean of all parts ${band}`;
  return `${what} with ${confidencePct} % confidence, parts taken as normally distributed`;
}

type Durability = NonNullable<AcceptanceInput['durability']>;

/** Each part once: broken too early is a failure whatever else was measured on it; stopped too early says nothing. */
function judgedDurability(asked: Durability, confidencePct: number, records: readonly MeasurementRecord[]): JudgedDurability {
  const { counted, atLeast, reliabilityPct } = asked;
  const parts = new Map<string, 'passed' | 'failed' | 'undecided'>();
  for (const { given, print } of records) {
    if (given.kind !== 'durability' || given.counted !== counted) continue;
    const outcome = given.count >= atLeast ? 'passed' : given.cracked ? 'failed' : 'undecided';
    const before = parts.get(print.serial);
    if (before !== 'failed' && outcome !== 'undecided') parts.set(print.serial, outcome);
    else if (!before) parts.set(print.serial, outcome);
  }
  const outcomes = [...parts.values()];
  const [passed, failed, undecided] = (['passed', 'failed', 'undecided'] as const).map(
    (each) => outcomes.filter((one) => one === each).length,
  );
  const [share, confidence] = [reliabilityPct / 100, confidencePct / 100];
  const { lower, upper } = exactBounds(passed, passed + failed, confidence);
  const verdict = lower >= share ? 'accepted' : upper < share ? 'rejected' : 'needs-more';
  const trials = trialsFor(share, { misses: failed, confidence, most: MOST_TRIALS });
  return {
    ...{ verdict, passed, failed, undecided },
    more: verdict === 'needs-more' && trials !== null ? trials - passed - failed : null,
    statement: `${reliabilityPct} % of parts last ${atLeast} ${counted} without a crack, with ${confidencePct} % confidence`,
    reliabilityPct: { from: 100 * lower, to: 100 * upper },
  };
}
