export { graphFile, latticeFile, madeFile } from './made-file.ts';
export { FILE_MAKERS, type FileSource } from './makers.ts';
export { trayThreeMf } from './threemf.ts';
