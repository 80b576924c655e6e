import type { StrutGraph } from '../lattice/index.ts';
import { AT_END, AT_START, makeBreakFinder, makeExposure, type UnionSurface } from '../solid/index.ts';
import { type Opposite, oppositeOf } from './opposite.ts';
import { type Place, pointOn } from './place.ts';

/** A body by name: a strut's number, or -1 - node. */
export type Body = number;

/** A stretch of a curve that bounds a strut's exposed surface, on one other body. */
export interface Piece {
  readonly strut: number;
  /** The strut is exposed after it (0) or before it (1), along its axis. */
  readonly side: 0 | 1;
  /** What ends the strut's generator lines here: see `Cover.limit`. */
  readonly code: number;
  readonly partner: Body;
  readonly start: Place;
  readonly end: Place;
  /** Goes all the way round and meets itself where it began. */
  readonly closed: boolean;
}

/**
 * What is exposed of a strut: between two events the same number of stretches along every generator line. A column holds for each stretch the pieces
 * that begin and end it, with growing angle. One column without events goes all the way round; no columns: nothing is exposed.
 */
export interface Outline {
  readonly round: boolean;
  readonly columns: readonly (readonly [Piece[], Piece[]])[][];
}

/** Steps off an angle at which a curve ends, to where rounding cannot hide it. */
const BESIDE = [0, 1e-13, 1e-12, 1e-11, 1e-10, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4];

interface Interval {
  readonly from: number;
  readonly to: number;
  /** Codes of each stretch: what begins it and what ends it. */
  readonly codes: readonly (readonly [number, number])[];
}

/** Finder of what is exposed of a strut; null where a curve is lost to rounding. `weldMm`: places nearer than this are one. */
export function makeOutliner(graph: StrutGraph, surface: UnionSurface, weldMm: number): (strut: number) => Outline | null {
  const { cover, frames } = surface;
  const names: Body[] = [];
  const findBreaks = makeBreakFinder(cover);
  const exposure = makeExposure();
  let opposites: (Opposite | null)[] = [];

  return (strut) => {
    opposites = [0, 1].map((end) => oppositeOf(graph, frames, 2 * strut + end, weldMm));
    const kinks = surface.gather(strut, names);
    const intervals = intervalsOf(strut, findBreaks(kinks));
    if (intervals.every(({ codes }) => codes.length === 0)) return { round: true, columns: [] };
    const place = (code: number, phi: number, toward: number): Place | null => {
      for (const off of BESIDE) {
        const angle = phi + Math.sign(toward - phi) * Math.min(off, Math.abs(toward - phi) / 2);
        const t = cover.limit(code, Math.cos(angle), Math.sin(angle));
        if (!Number.isNaN(t)) return { phi, at: pointOn(frames.data, strut, angle, t) };
      }
      return null;
    };
    const events = intervals.map((each, k) => isEvent(intervals.at(k - 1)!, each, place));
    const first = events.indexOf(true);
    const round = first < 0;
    const columns: [Piece[], Piece[]][][] = [];
    for (let n = 0; n < intervals.length; n++) {
      const k = (Math.max(0, first) + n) % intervals.length;
      const turn = k < first ? 2 * Math.PI : 0;
      const { from, to, codes } = intervals[k];
      if (n === 0 || events[k]) columns.push(codes.map(() => [[], []]));
      for (const [s, stretch] of columns.at(-1)!.entries()) {
        for (const side of [0, 1] as const) {
          const code = codes[s][side];
          const last = stretch[side].at(-1);
          const end = place(code, to, from);
          if (!end) return null;
          const finish = { ...end, phi: to + turn };
          if (last?.code === code) {
            stretch[side][stretch[side].length - 1] = { ...last, end: finish };
            continue;
          }
          const start = place(code, from, to);
          if (!start) return null;
          const partner = partnerOf(strut, code);
          stretch[side].push({ strut, side, code, partner, start: { ...start, phi: from + turn }, end: finish, closed: false });
        }
      }
    }
    if (round) for (const stretch of columns[0]) for (const side of [0, 1]) closeRing(stretch[side]);
    return { round, columns };
  };

  function intervalsOf(strut: number, breaks: readonly number[]): Interval[] {
    const found: Interval[] = [];
    for (let k = 0; k < Math.max(1, breaks.length); k++) {
      const from = breaks[k] ?? 0;
      const to = k + 1 < breaks.length ? breaks[k + 1] : (breaks[0] ?? 0) + 2 * Math.PI;
      cover.expose(Math.cos((from + to) / 2), Math.sin((from + to) / 2), exposure);
      found.push({ from, to, codes: codesNow(strut) });
    }
    return found;
  }

  /** Whether stretches begin, end, part or join between two intervals. */
  function isEvent(before: Interval, after: Interval, place: (code: number, phi: number, toward: number) => Place | null): boolean {
    if (before === after) return false;
    if (before.codes.length !== after.codes.length) return true;
    return before.codes.some((codes, s) =>
      codes.some((code, side) => {
        const next = after.codes[s][side];
        if (code === next) return false;
        const [p, q] = [place(code, before.to, before.from), place(next, after.from, after.to)];
        return !p || !q || Math.hypot(p.at[0] - q.at[0], p.at[1] - q.at[1], p.at[2] - q.at[2]) > weldMm;
      }),
    );
  }

  /** Where a strut goes straight on as another, rounding would say which of the two ends the line, or whether the sphere between them does. */
  function codesNow(strut: number): [number, number][] {
    const own = (code: number, end: 0 | 1): number => {
      const opposite = opposites[end];
      if (code < 0 || !opposite) return code;
      const name = names[code >> 1];
      const atSphere = opposite.seamless && name === -1 - graph.ends[2 * strut + end];
      return name === opposite.strut || atSphere ? [AT_START, AT_END][end] : code;
    };
    return Array.from({ length: exposure.count }, (_, k) => [own(exposure.fromCode[k], 0), own(exposure.toCode[k], 1)]);
  }

  function partnerOf(strut: number, code: number): Body {
    if (code >= 0) return names[code >> 1];
    const end = code === AT_START ? 0 : 1;
    const opposite = opposites[end];
    return opposite?.seamless ? opposite.strut : -1 - graph.ends[2 * strut + end];
  }
}

/** On a ring the last piece may go on as the first. */
function closeRing(pieces: Piece[]): void {
  const [first, last] = [pieces[0], pieces.at(-1)!];
  if (pieces.length === 1) pieces[0] = { ...first, closed: true };
  else if (first.code === last.code) {
    pieces.pop();
    pieces[0] = { ...first, start: { ...last.start, phi: last.start.phi - 2 * Math.PI } };
  }
}
