import { axisWords } from '../../openapi/field-words.ts';
import type { Result } from '../../openapi/result.ts';
import { byRole, picture } from '../engine/index.ts';
import type { PlotElement } from '../plots/index.ts';
import { newPage } from '../plots/on-server.ts';
import { bouncePicture } from './bounce.ts';
import { escaped, figure, figures, list, measured, page, pairs, section, shown, table } from './html.ts';
import type { FileSource } from './makers.ts';
import { pictureOf, pointedAt } from './pictures.ts';
import { energyOf, forceDeflectionOf, heightOf, layerAreaOf } from './plots.ts';
import { figuresOf, makingOf } from './report-figures.ts';
import { recordsOf } from './report-records.ts';
import { spreadOf, surenessOf } from './report-spread.ts';

const SIZE_PX = 560;
/** Plots stand two side by side: drawn as wide as they are shown, their text keeps its size. */
const PLOT_PX = { widthPx: 440, heightPx: 280 };

/** One evaluation to read and print: a page that needs no network, with targets, pictures, checks, figures, plots, assumptions and cautions. */
export function reportOf(source: FileSource): string | null {
  const { result, evaluation } = source;
  if (!result) return null;
  const { reference } = evaluation;
  const title = `Strut lattice, ${shown(result.geometry.outsideDiameterMm)} mm, ${shown(result.massProperties.massG)} g`;
  return page(
    title,
    `<h1>${escaped(title)}</h1>`,
    `<p>Computed, not measured: nothing here stands for a test of a printed part.</p>`,
    section('In short', pairs(inShort(source, result))),
    section('Targets', targetsOf(result), reference ? `<p class="small">${escaped(`Reference: ${reference.source}`)}</p>` : ''),
    section('Pictures', picturesOf(source)),
    section('Checks', checksOf(result), checkedPicture(source, result)),
    section('Figures', pairs(figuresOf(result))),
    section('Parts as they may print', spreadOf(result)),
    section('How sure', surenessOf(result)),
    section('Curves', plotsOf(source)),
    section('Build and cost', pairs(makingOf(result))),
    section('What was assumed', list(assumptionsOf(result))),
    `<section class="care"><h2>Care</h2>${list(result.warnings.map(({ message }) => message))}</section>`,
    section('Parameter set and records', recordsOf(evaluation)),
    `<p class="small">${escaped(`strutwright ${result.engine.version}, input ${result.engine.inputHash}`)}</p>`,
  );
}

const inWords = (id: string): string => id.replaceAll('-', ' ');

function inShort({ evaluation }: FileSource, { printability: { checks }, targets, geometry }: Result): [string, string][] {
  const named = (status: string, word: string) => {
    const ids = checks.filter((each) => each.status === status).map(({ id }) => inWords(id));
    return ids.length > 0 ? [`${word}: ${ids.join(', ')}`] : [];
  };
  const troubles = [...named('fail', 'failed'), ...named('warn', 'warnings')].join('; ');
  const met = targets.filter(({ within }) => within).length;
  const key = (record: unknown) => (record as { key: string }).key;
  const layers = evaluation.parameterSet.layers.length;
  return [
    ['checks', troubles || 'none failed, none warned'],
    ['targets', targets.length === 0 ? 'none were named' : `${met} of ${targets.length} met`],
    [
      'lattice',
      `${shown(geometry.strutCount)} struts in ${layers} ${layers === 1 ? 'layer' : 'layers'} of ${shown(geometry.cellCount)} cells`,
    ],
    ['material, build volume', `${key(evaluation.material)}, ${key(evaluation.buildVolume)}`],
  ];
}

function picturesOf({ marked, poll, ...source }: FileSource): string {
  const of = (view: 'corner' | 'front', cut: boolean) => picture(marked, { view, cut, sizePx: SIZE_PX, colouring: byRole(marked), poll });
  const bounce = bouncePicture({ marked, poll, ...source, order: { name: 'bounce.png' } });
  return (
    figures(
      figure(of('corner', false), 'Seen from a corner, a colour for each role'),
      figure(of('front', true), 'The near half cut away'),
    ) +
    figure(
      bounce,
      'The bounce in its first orientation, evenly over time: struts coloured by strain, force on the floor as a mean of half a millisecond',
    )
  );
}

function targetsOf({ targets }: Result): string {
  if (targets.length === 0) return '<p>No reference was named.</p>';
  const verdict = (within: boolean | null) => (within === null ? 'not computed' : within ? 'met' : 'missed');
  const rows = targets.map(({ quantity, value, min, target, max, within, missPct }) => {
    const miss = within === false ? ` by ${shown(missPct)} %` : '';
    return [axisWords(quantity), shown(value), shown(min), shown(target), shown(max), verdict(within) + miss];
  });
  return table(['quantity', 'value', 'least', 'target', 'most', 'outcome'], rows, (k) =>
    targets[k].within === false ? 'fail' : targets[k].within ? 'pass' : '',
  );
}

/** What needs a look comes first. */
const ORDER = ['fail', 'warn', 'pass', 'not-checked'];
const UNITS: Readonly<Record<string, string>> = {
  percent: '%',
  degrees: '°',
  mm2: 'mm²',
  cycles: 'bounces',
  'length/diameter': 'diameters',
};

function checksOf({ printability: { checks } }: Result): string {
  const sorted = checks.toSorted((a, b) => ORDER.indexOf(a.status) - ORDER.indexOf(b.status));
  const rows = sorted.map(({ id, status, value, limit, unit, message }) => {
    const [number, bound] = [value, limit].map((each) => measured(each, UNITS[unit ?? ''] ?? unit ?? ''));
    return [inWords(id), inWords(status), number, bound, message];
  });
  return `<div class="checks">${table(['check', 'outcome', 'value', 'limit', 'in words'], rows, (k) => sorted[k].status)}</div>`;
}

function checkedPicture(source: FileSource, result: Result): string {
  const { struts, nodes } = pointedAt(result, source.lattice);
  if (struts.size + nodes.size === 0) return '';
  return figures(
    figure(pictureOf({ ...source, order: { name: 'picture.png', colourBy: 'checks' } }), 'What checks that do not pass point at'),
  );
}

function plotsOf(source: FileSource): string {
  const drawn = (plot: PlotElement | null, caption: string) =>
    plot === null ? '' : `<figure>${plot.outerHTML}<figcaption>${escaped(caption)}</figcaption></figure>`;
  return figures(
    drawn(forceDeflectionOf(source, newPage(PLOT_PX)), 'Force over deflection between two plates'),
    drawn(heightOf(source, newPage(PLOT_PX)), 'Height of the centre over time in the bounce, the floor at 0'),
    drawn(energyOf(source, newPage(PLOT_PX)), 'Where the energy of the bounce went'),
    drawn(layerAreaOf(source, newPage(PLOT_PX)), 'Area of the layers over the height, the middle at 0'),
  );
}

const assumptionsOf = ({ build, cost, rebound, life, motion, variation }: Result): string[] => [
  ...new Set([build, cost, rebound, life, motion?.roll, variation].flatMap((part) => part?.assumptions ?? [])),
];
