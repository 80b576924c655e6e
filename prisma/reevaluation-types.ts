import type { Drift, EvaluationStatus, Quantity, ReevaluationSelection } from '../openapi/index.ts';
import type { Page, PageRequest } from './records.ts';
import type { Verdict } from './run-records.ts';

/** What a selection of evaluations means, and what of it the team does not have. */
export interface Outdated {
  /** Finished evaluations that another version of the engine computed, the oldest first; one more than the most where there are more. */
  ids: string[];
  /** Finished evaluations of this version; counted up to one more than the most. */
  upToDate: number;
  unknown: { designId?: string; versionIds: string[]; evaluationIds: string[] };
}

interface Side {
  evaluationId: string;
  engineVersion: string;
  status: EvaluationStatus;
  verdict: Verdict | null;
  quantities: Record<Quantity, number | null>;
}
export interface PairRecord {
  index: number;
  earlier: Side;
  /** null: its turn has not come. */
  again: Side | null;
}

/** Evaluations computed again by another version of the engine: reads only; what computes them is an undertaking. */
export interface Reevaluations {
  /** RecordFault: too-slow. */
  outdated(teamId: string, selection: ReevaluationSelection, than: { engineVersion: string; most: number }): Promise<Outdated>;
  /** What moved in the pairs that have ended. RecordFault: too-slow. */
  drift(id: string): Promise<Drift>;
  /** In the order of their indexes. */
  pairs(id: string, page: PageRequest): Promise<Page<PairRecord>>;
}
