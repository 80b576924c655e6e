export { madeFile } from './made-file.ts';
export { FILE_MAKERS, type FileSource } from './makers.ts';
export { graphFile, latticeFile } from './promised.ts';
export { trayThreeMf } from './threemf.ts';
