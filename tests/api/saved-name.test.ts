import { describe, expect, it } from 'vitest';
import { savedName } from '../../api/saved-name.ts';
import { FILE_NAMES } from '../../openapi/files.ts';

const version = { designName: 'Größe 1, leicht', number: 3 };
const saved = (name: string) => savedName(name, 'id', version);

describe('the name that a file is saved under', () => {
  it.each([
    ['lattice.stl', 'grosse-1-leicht-3.stl'],
    ['graph.json', 'grosse-1-leicht-3.json'],
    ['report.html', 'grosse-1-leicht-3.html'],
    ['lattice-mesh.3mf', 'grosse-1-leicht-3-mesh.3mf'],
    ['lattice-chordMm-0.02.stl', 'grosse-1-leicht-3-chordMm-0.02.stl'],
    ['bounce-frame-5.png', 'grosse-1-leicht-3-bounce-frame-5.png'],
    ['height.svg', 'grosse-1-leicht-3-height.svg'],
  ])('%s is %s', (name, expected) => expect(saved(name)).toBe(expected));

  it('is another for every file of a version', () => {
    expect(new Set(FILE_NAMES.map(saved)).size).toBe(FILE_NAMES.length);
  });

  it('begins with the evaluation where there is no version, or no letter in the name of its design', () => {
    expect(savedName('lattice.stl', 'id', null)).toBe('id-lattice.stl');
    expect(savedName('lattice.stl', 'id', { designName: '球', number: 1 })).toBe('id-lattice.stl');
  });
});
