/** One branch of a generalised Maxwell model. */
export interface Branch {
  /** Modulus of the branch over the long-term modulus. */
  readonly ratio: number;
  readonly timeS: number;
}

/** Generalised Maxwell model: E(t) = longTerm (1 + sum ratio exp(-t / time)), one and the same for every deformation. */
export interface Relaxation {
  readonly longTermMPa: number;
  readonly instantaneousMPa: number;
  readonly branches: readonly Branch[];
}

/** What a material record says about its stiffness in time. */
export interface Viscoelastic {
  /** Storage modulus at referenceHz. */
  readonly modulusMPa: number;
  readonly referenceHz: number;
  /** tan delta, constant about referenceHz; not read where there are relaxation terms. */
  readonly lossFactor?: number | null;
  /** Measured terms: time of each branch, and its modulus over the long-term one or in MPa (the same way in all terms). */
  readonly relaxation?: readonly { readonly timeS: number; readonly ratio?: number; readonly modulusMPa?: number }[] | null;
}

export type RelaxationOutcome =
  /** deviationPct: how far tan delta strays from the loss factor between 3 and 300 Hz; 0 with measured terms. */
  | { readonly kind: 'relaxation'; readonly relaxation: Relaxation; readonly deviationPct: number }
  | { readonly kind: 'refused'; readonly code: 'loss-factor-too-high' | 'relaxation-too-strong'; readonly message: string };

/** A bounce lives between these frequencies; tan delta is flat there. */
const BAND_HZ = [3, 300] as const;
/** Relaxation times that flatten it: beyond the band at both ends, see `timesFor`. */
const TIMES_S = [1e-4, 0.3] as const;

/**
 * The model of a material. Storage and loss modulus at the angular frequency w, with x = w time:
 * E' = longTerm (1 + sum ratio x^2 / (1 + x^2)), E'' = longTerm sum ratio x / (1 + x^2) (Ferry, Viscoelastic Properties of Polymers, 1980, ch. 3).
 * From a loss factor: a constant tan delta means E' ~ w^a with a = 2/pi atan(tan delta) (Kjartansson 1979), whose spectrum is ~ time^-a; so equal
 * steps in log(time), ratios c time^-a (equal ones in the limit of small loss), and c from tan delta at the reference. Plainly equal ratios would
 * leave the loss factor 0.12 off by 19 % at the ends of the band, these by 6 %.
 * longTerm follows from E'(reference) = modulusMPa, with measured terms too. Refused: branches in MPa that alone exceed modulusMPa there; a loss factor
 * that no c > 0 gives.
 */
export function relaxationOf({ modulusMPa, referenceHz, lossFactor, relaxation: terms }: Viscoelastic): RelaxationOutcome {
  if (terms && terms.length > 0) return measured(terms, modulusMPa, referenceHz);
  if (!lossFactor) return { kind: 'relaxation', relaxation: scaled([], modulusMPa, referenceHz), deviationPct: 0 };
  const exponent = (2 / Math.PI) * Math.atan(lossFactor);
  const shape = timesFor(referenceHz).map((timeS) => ({ ratio: (timeS * referenceHz) ** -exponent, timeS }));
  const { storage, loss } = moduli(shape, referenceHz);
  const c = lossFactor / (loss - lossFactor * (storage - 1));
  if (!(c > 0)) {
    const highest = (loss / (storage - 1)).toPrecision(3);
    return refused(
      'loss-factor-too-high',
      `The loss factor ${lossFactor} is beyond what these relaxation times can give (about ${highest}).`,
    );
  }
  const branches = shape.map(({ ratio, timeS }) => ({ ratio: c * ratio, timeS }));
  return { kind: 'relaxation', relaxation: scaled(branches, modulusMPa, referenceHz), deviationPct: deviation(branches, lossFactor) };
}

/** Storage modulus (MPa) and tan delta of a model at a frequency (Hz). */
export function response({ longTermMPa, branches }: Relaxation, hz: number): { storageMPa: number; tanDelta: number } {
  const { storage, loss } = moduli(branches, hz);
  return { storageMPa: longTermMPa * storage, tanDelta: loss / storage };
}

const refused = (code: 'loss-factor-too-high' | 'relaxation-too-strong', message: string): RelaxationOutcome => ({
  kind: 'refused',
  code,
  message,
});

/** Terms in MPa leave the long-term modulus what the branches do not hold of modulusMPa at the reference. */
function measured(terms: NonNullable<Viscoelastic['relaxation']>, modulusMPa: number, referenceHz: number): RelaxationOutcome {
  const inMPa = terms.map(({ timeS, modulusMPa: modulus = 0 }) => ({ ratio: modulus, timeS }));
  const longTerm = modulusMPa - (moduli(inMPa, referenceHz).storage - 1);
  if (longTerm <= 0)
    return refused(
      'relaxation-too-strong',
      `The branches alone hold ${modulusMPa - longTerm} MPa at ${referenceHz} Hz, all of ${modulusMPa} MPa.`,
    );
  const branches = terms.map(({ timeS, ratio, modulusMPa: modulus = 0 }) => ({ ratio: ratio ?? modulus / longTerm, timeS }));
  return { kind: 'relaxation', relaxation: scaled(branches, modulusMPa, referenceHz), deviationPct: 0 };
}

function scaled(branches: readonly Branch[], modulusMPa: number, referenceHz: number): Relaxation {
  const longTermMPa = modulusMPa / moduli(branches, referenceHz).storage;
  const instantaneousMPa = longTermMPa * branches.reduce((total, { ratio }) => total + ratio, 1);
  return { longTermMPa, instantaneousMPa, branches };
}

/** E' and E'' over the long-term modulus. */
function moduli(branches: readonly Branch[], hz: number): { storage: number; loss: number } {
  let [storage, loss] = [1, 0];
  for (const { ratio, timeS } of branches) {
    const x = 2 * Math.PI * hz * timeS;
    storage += (ratio * x * x) / (1 + x * x);
    loss += (ratio * x) / (1 + x * x);
  }
  return { storage, loss };
}

/** Times a decade apart at most; the range grows where the reference would lie near its end, as tan delta falls off there. */
function timesFor(referenceHz: number): number[] {
  const shortest = Math.min(TIMES_S[0], 0.01 / referenceHz);
  const longest = Math.max(TIMES_S[1], 3 / referenceHz);
  const steps = Math.ceil(Math.log10(longest / shortest));
  return Array.from({ length: steps + 1 }, (_, k) => shortest * (longest / shortest) ** (k / steps));
}

/** Largest |tan delta / lossFactor - 1| in the band, percent, at 200 frequencies. */
function deviation(branches: readonly Branch[], lossFactor: number): number {
  let most = 0;
  for (let k = 0; k <= 200; k++) {
    const { storage, loss } = moduli(branches, BAND_HZ[0] * (BAND_HZ[1] / BAND_HZ[0]) ** (k / 200));
    most = Math.max(most, Math.abs(loss / storage / lossFactor - 1));
  }
  return 100 * most;
}
