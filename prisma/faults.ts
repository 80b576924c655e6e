export type RecordFaultCode =
  | 'cursor-unreadable'
  | 'cursor-of-another-sort'
  | 'based-on-unknown'
  | 'design-archived'
  | 'last-admin-key'
  | 'serial-taken'
  | 'measurement-known'
  | 'limit-out-of-range'
  | 'too-slow';

/** A refusal by the records that the caller can put right; `field` and `value` say what was refused. Everything else that throws is a defect. */
export class RecordFault extends Error {
  override readonly name = 'RecordFault';
  readonly code: RecordFaultCode;
  readonly field: string;
  readonly value: unknown;
  constructor(code: RecordFaultCode, at: { field: string; value: unknown }, message: string) {
    super(message);
    this.code = code;
    this.field = at.field;
    this.value = at.value;
  }
}
