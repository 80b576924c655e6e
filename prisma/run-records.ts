import type {
  CalibrationInput,
  CalibrationResult,
  Evaluation,
  EvaluationStatus,
  FileOrder,
  Quantity,
  ResolvedInput,
  Result,
  SurfaceInput,
  SurfaceResult,
  TrayInput,
  TrayResult,
} from '../openapi/index.ts';

/** Plain records of runs: what was asked for, how far it is, what came out. */

export type RunError = NonNullable<Evaluation['error']>;
export type Verdict = Result['printability']['verdict'];

/** One line of history: everything that filters and sorts, nothing large. */
export interface EvaluationSummary {
  id: string;
  teamId: string;
  computationId: string;
  designId: string | null;
  versionId: string | null;
  /** Number of the version within its design. */
  version: number | null;
  status: EvaluationStatus;
  /** Key of the material; null: it was posted inline without one. */
  material: string | null;
  engineVersion: string;
  stage: string | null;
  progressPct: number;
  createdAt: Date;
  finishedAt: Date | null;
  verdict: Verdict | null;
  /** null unless done, and where the result holds no such number. */
  quantities: Record<Quantity, number | null>;
}
/** A line of an export: what was asked for, and what it came to. */
export interface ExportedEvaluation extends EvaluationSummary {
  parameterSet: ResolvedInput['parameterSet'];
  /** Key; null: it was posted inline without one. */
  buildVolume: string | null;
}
/** What was asked of an evaluation, and what one quantity came to. */
export interface SelectedEvaluation extends Pick<ExportedEvaluation, 'parameterSet' | 'material' | 'buildVolume' | 'engineVersion'> {
  value: number;
}
export interface EvaluationRecord extends EvaluationSummary {
  startedAt: Date | null;
  inputHash: string;
  input: ResolvedInput;
  /** When the whole result went. */
  thinnedAt: Date | null;
  /** Whole when status is done, unless it is thinned; of a failed run the numbers so far, if there are any. */
  result: Result | null;
  /** Only when status is failed. */
  error: RunError | null;
}

/** How far an evaluation is. */
export interface EvaluationState {
  id: string;
  computationId: string;
  status: EvaluationStatus;
  stage: string | null;
  progressPct: number;
}
/** The named ones; `live`: also all of the team that are not finished, and those that finished since then. The newest thousand at most. */
export interface StatesQuery {
  ids: readonly string[];
  live?: { finishedSince: Date | null };
}

/** A run that is its computation, and how far it is. */
export interface OwnRun<Input, Result> {
  id: string;
  status: EvaluationStatus;
  stage: string | null;
  progressPct: number;
  createdAt: Date;
  startedAt: Date | null;
  finishedAt: Date | null;
  input: Input;
  /** Only when status is done. */
  result: Result | null;
  /** Only when status is failed. */
  error: RunError | null;
}

export type TrayRecord = OwnRun<TrayInput, TrayResult>;
export type CalibrationRecord = OwnRun<CalibrationInput, CalibrationResult>;
export type SurfaceRecord = OwnRun<SurfaceInput, SurfaceResult>;

/** What there is to compute, by its kind. */
export type Work =
  | {
      kind: 'evaluation';
      input: ResolvedInput /** Whether its files are wanted at once: not those of a batch's thousands. */;
      keepsFiles?: boolean;
    }
  | { kind: 'tray'; input: TrayInput }
  | { kind: 'calibration'; input: CalibrationInput }
  | { kind: 'surface'; input: SurfaceInput }
  | { kind: 'file'; input: FileInput };

/** What comes of it; of a file the name under which it is stored. */
export type Computed = Result | TrayResult | CalibrationResult | SurfaceResult | { file: string };

/** A file to be made of an evaluation, and what that was asked and answered. */
export interface FileInput {
  /** The evaluation's computation. */
  of: string;
  order: FileOrder;
  /** Its name with the options that are not the default. */
  stored: string;
  evaluation: ResolvedInput;
  /** Of a failed run the numbers so far, if there are any. */
  result: Result | null;
}

/** How far the making of a file is. */
export interface FileState {
  computationId: string;
  status: EvaluationStatus;
  stage: string | null;
  progressPct: number;
  error: RunError | null;
}

/** What the worker is given to compute. */
export type Claim = Work & {
  computationId: string;
  teamId: string;
  inputHash: string;
  engineVersion: string;
  /** 1 on the first claim. */
  attempts: number;
};
