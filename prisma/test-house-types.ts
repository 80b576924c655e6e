import type {
  AcceptanceInput,
  AcceptanceOutcome,
  AcceptanceVerdict,
  FinishingStep,
  MeasuredValues,
  TestKind,
  TestMeasurementBody,
} from '../openapi/index.ts';
import type { Page, PageRequest } from './records.ts';

/** What comes back from the test house: printed parts, and what was measured on them. */

export interface UsedRecord {
  key: string;
  revision: number;
}
/** Of one copy. */
export interface PrintedCopy {
  serial: string;
  placeMm: [number, number, number] | null;
  orientationDeg: [number, number, number] | null;
}
interface Made {
  versionId: string;
  material: UsedRecord;
  buildVolume: UsedRecord;
  lot: { name: string; virginSharePct: number | null };
  build: string;
  finishing: FinishingStep[];
  /** A day, as 2027-01-31. */
  printedOn: string;
  notes: string;
}
export interface NewPrints extends Made {
  copies: PrintedCopy[];
}
export interface PrintRecord extends Made, PrintedCopy {
  id: string;
  teamId: string;
  designId: string;
  /** Number of the version. */
  version: number;
  /** Of the carrier of the version, as designed. */
  outsideDiameterMm: number;
  createdAt: Date;
  archivedAt: Date | null;
}

/** Which prints; what is left out does not matter. */
export interface PrintFilter {
  designId?: string;
  versionId?: string;
  material?: string;
  materialRevision?: number;
  buildVolume?: string;
  build?: string;
  lot?: string;
  serial?: string;
}
export interface PrintListRequest extends PageRequest, PrintFilter {
  archived: boolean;
}

export interface Prints {
  /** All copies or none; null: no such version. RecordFault: serial-taken. */
  create(teamId: string, made: NewPrints): Promise<PrintRecord[] | null>;
  get(teamId: string, id: string): Promise<PrintRecord | null>;
  /** Those of the ids and serials that there are. */
  find(teamId: string, wanted: { ids: string[]; serials: string[] }): Promise<PrintRecord[]>;
  /** The newest first. */
  list(teamId: string, page: PrintListRequest): Promise<Page<PrintRecord>>;
  /** What is undefined stays as it is. null: no such print. */
  update(teamId: string, id: string, change: { notes?: string; finishing?: FinishingStep[] }): Promise<PrintRecord | null>;
  /** null when there is no such print; archiving twice keeps the first time. */
  archive(teamId: string, id: string): Promise<PrintRecord | null>;
}

export interface NewMeasurement {
  printId: string;
  given: TestMeasurementBody;
  values: MeasuredValues;
}
export interface MeasurementRecord {
  id: string;
  teamId: string;
  print: PrintRecord;
  kind: TestKind;
  measuredAt: Date;
  given: TestMeasurementBody;
  values: MeasuredValues;
  createdAt: Date;
  archivedAt: Date | null;
}
export interface MeasurementFilter extends PrintFilter {
  printId?: string;
  kind?: TestKind;
}
export interface MeasurementListRequest extends PageRequest, MeasurementFilter {
  archived: boolean;
}

export interface Measurements {
  /** Places in the list of those that are kept already, or stand in it a second time. */
  known(teamId: string, measurements: readonly NewMeasurement[]): Promise<number[]>;
  /** All or none, and their ids in order. RecordFault: measurement-known. */
  create(teamId: string, measurements: readonly NewMeasurement[]): Promise<string[]>;
  get(teamId: string, id: string): Promise<MeasurementRecord | null>;
  /** The newest first. */
  list(teamId: string, page: MeasurementListRequest): Promise<Page<MeasurementRecord>>;
  /** Everything measured on prints, both not archived, in the order it was measured; at most `limit`. */
  evidence(teamId: string, filter: MeasurementFilter, limit: number): Promise<MeasurementRecord[]>;
  /** null when there is no such measurement; archiving twice keeps the first time. */
  archive(teamId: string, id: string): Promise<MeasurementRecord | null>;
}

export interface NewAcceptance {
  decidedById: string;
  verdict: AcceptanceVerdict;
  input: AcceptanceInput;
  outcome: AcceptanceOutcome;
}
export interface AcceptanceRecord {
  id: string;
  teamId: string;
  designId: string;
  /** Number of the version. */
  version: number;
  verdict: AcceptanceVerdict;
  input: AcceptanceInput;
  outcome: AcceptanceOutcome;
  decidedBy: { keyId: string; name: string };
  createdAt: Date;
}
export interface Acceptances {
  /** The version and the key are the team's. */
  create(teamId: string, made: NewAcceptance): Promise<AcceptanceRecord>;
  get(teamId: string, id: string): Promise<AcceptanceRecord | null>;
  /** The newest first. */
  list(
    teamId: string,
    page: PageRequest & { designId?: string; versionId?: string; verdict?: AcceptanceVerdict },
  ): Promise<Page<AcceptanceRecord>>;
}
