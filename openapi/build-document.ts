import { writeFileSync } from 'node:fs';
import { openapiDocument } from './document.ts';

/** Writes the document to the file named on the command line. */
const [, , target] = process.argv;
if (!target) throw new Error('usage: build-document <file>');
writeFileSync(target, `${JSON.stringify(openapiDocument(), null, 2)}\n`);
