import { parseHTML } from 'linkedom';
import { beforeAll, describe, expect, it } from 'vitest';
import { label } from '../../../openapi/field-words.ts';
import { type FileName, storedName } from '../../../openapi/files.ts';
import type { Result } from '../../../openapi/index.ts';
import { evaluate, printedLattice } from '../../../worker/engine/index.ts';
import { escaped, shown } from '../../../worker/files/html.ts';
import { FILE_MAKERS, type FileSource } from '../../../worker/files/index.ts';
import { inputOf } from '../../engine/inputs.ts';

let source: Omit<FileSource, 'order'>;
let result: Result;
const made = async (name: FileName) => FILE_MAKERS[name]({ ...source, order: { name } });

beforeAll(async () => {
  const parameterSet = {
    carrier: { shape: 'sphere', outsideDiameterMm: 100 },
    tiling: { kind: 'goldberg', m: 1, n: 0, relaxation: 'none', orientation: 'split-plane' },
    layers: [{ depthMm: 0, strutDiameterMm: 7 }],
    links: { pattern: 'none' },
  };
  const input = await inputOf({
    parameterSet,
    reference: 'handball-size-1',
    tests: {
      depth: 'full',
      drop: { heightMm: 100, orientations: 1 },
      variation: { parts: 50, bouncingParts: 0 },
      motion: { roll: { distanceMm: 100, starts: 2 }, spin: {} },
    },
  } as never);
  const outcome = evaluate(input);
  const evaluated = outcome.kind === 'done' ? outcome : outcome.kind === 'failed' ? outcome.partial : null;
  const printed = printedLattice(input);
  if (!evaluated || printed.kind === 'failed') throw new Error(JSON.stringify(outcome));
  result = { engine: { version: '1.0.0', inputHash: 'sha256:0' }, ...evaluated.result } as Result;
  source = { ...printed, evaluation: input, result };
});

describe('the report', () => {
  it('holds every target, check, assumption and caution, pictures and plots, and needs nothing but itself', async () => {
    const html = (await made('report.html')) as string;
    const { document } = parseHTML(html);
    const text = document.body.textContent!;
    for (const { quantity } of result.targets) expect(text).toContain(label(quantity).name);
    for (const { id, message } of result.printability.checks)
      for (const each of [id.replaceAll('-', ' '), message]) expect(text).toContain(each);
    const { build, rebound, life, motion, variation } = result;
    for (const part of [build, rebound!, life!, motion!.roll!, variation!])
      for (const each of part.assumptions) expect(text).toContain(each);
    for (const { mean, deviation } of Object.values(variation!.quantities))
      for (const each of [mean, deviation]) expect(text).toContain(shown(each));
    expect(text).toContain(`of ${variation!.all!.count} parts meet every target`);
    expect(text).toContain(`${shown(motion!.roll!.largestDeviationMm)} mm at most of 2 starts`);
    for (const { message } of result.warnings) expect(text).toContain(message);
    expect(text).toContain(`${shown(result.massProperties.massG)} g`);
    expect(document.querySelectorAll('img').length).toBeGreaterThanOrEqual(3);
    expect(document.querySelectorAll('svg[role=img]').length).toBe(4);
    for (const image of document.querySelectorAll('img')) expect(image.getAttribute('alt')).not.toBe('');
    expect(html.match(/(?:src|href)="(?!data:)[^"]*"/g) ?? []).toEqual([]);
    const plain = html.replace(/base64,[^"]*/g, '');
    expect(plain).not.toContain('undefined');
    expect(plain).not.toContain('NaN');
  });

  it('shows text as text', () => {
    expect(escaped('<b>"a" & \'b\'')).toBe('&lt;b&gt;&quot;a&quot; &amp; &#39;b&#39;');
    expect([shown(null), shown(1234567), shown(0.000123456), shown(-1e-9), shown(-2.5), shown(0)]).toEqual([
      '–',
      '1\u202f235\u202f000',
      '0.0001235',
      'under 0.0001',
      '−2.5',
      '0',
    ]);
  });
});

describe('the bounce', () => {
  it('is told for every node and strut of graph.json, and comes down to the floor', async () => {
    const frames = JSON.parse((await made('bounce.json')) as string);
    const graph = JSON.parse((await made('graph.json')) as string);
    expect(frames.nodesMm.length).toBe(frames.timesMs.length);
    for (const nodes of frames.nodesMm) expect(nodes.length).toBe(3 * graph.nodes.length);
    for (const strain of frames.strainPct) expect(strain.length).toBe(graph.struts.length);
    expect(frames.orientation).toBe(result.rebound!.byOrientation[0].name);
    const peak = Math.max(...frames.strainPct.flat());
    // Frames lie between steps, so a peak may be cut a little, and is rounded to 0.01.
    expect(peak).toBeGreaterThan(0.9 * result.rebound!.byOrientation[0].peakStrainPct);
    expect(peak).toBeLessThan(result.rebound!.byOrientation[0].peakStrainPct + 0.01);
  });

  it('has each of its frames alone, and moving', async () => {
    const still = async (frame: number) =>
      (await FILE_MAKERS['bounce.png']({ ...source, order: { name: 'bounce.png', frame } })) as Uint8Array;
    const [first, fifth, sixth] = [await still(1), await still(5), await still(6)];
    expect(first).not.toEqual(fifth);
    expect(fifth).not.toEqual(sixth);
    expect(storedName({ name: 'bounce.png', frame: 5 })).toBe('bounce-frame-5.png');
    const moving = (await made('bounce-animation.png')) as Uint8Array;
    expect(moving.length).toBeGreaterThan(10 * first.length);
  });

  it('without a bounce there is no file of one', async () => {
    const geometry = { ...source, result: { ...result, rebound: null, stiffness: null } };
    for (const name of ['bounce.json', 'bounce.png', 'bounce-animation.png', 'height.svg', 'energy.svg', 'force-deflection.svg'] as const) {
      expect(await FILE_MAKERS[name]({ ...geometry, order: { name } })).toBeNull();
    }
  });
});
