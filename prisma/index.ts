export { type EmbeddedServer, startEmbedded } from './embedded/index.ts';
export { RecordFault, type RecordFaultCode } from './faults.ts';
export { inputHash } from './input-hash.ts';
export { type Listener, listen } from './listen.ts';
export { migrate } from './migrate.ts';
export { openRecords } from './open.ts';
export type * from './records.ts';
export type * from './repositories.ts';
