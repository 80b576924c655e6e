import type { Result } from '../../openapi/result.ts';
import { byRole, picture } from '../engine/index.ts';
import type { PlotElement } from '../plots/index.ts';
import { bouncePicture } from './bounce.ts';
import { escaped, figure, list, page, section, shown, table } from './html.ts';
import type { FileSource } from './makers.ts';
import { pictureOf, pointedAt } from './pictures.ts';
import { energyOf, forceDeflectionOf, heightOf, layerAreaOf } from './plots.ts';

const SIZE_PX = 640;

/** One evaluation to read and print: a page that needs no network, with pictures, targets, checks, figures, plots, assumptions and cautions. */
export function reportOf(source: FileSource): string | null {
  const { result, evaluation } = source;
  if (!result) return null;
  const { parameterSet, reference } = evaluation;
  const title = `Strut lattice, ${shown(result.geometry.outsideDiameterMm)} mm, ${shown(result.massProperties.massG)} g`;
  return page(
    title,
    `<h1>${escaped(title)}</h1>`,
    `<p>${escaped(`Computed by strutwright ${result.engine.version}, input ${result.engine.inputHash}. Nothing here was measured.`)}</p>`,
    section('Pictures', picturesOf(source, result)),
    section('Targets', targetsOf(result), reference ? `<p>${escaped(`Reference: ${reference.source}`)}</p>` : ''),
    section(`Can it be made: ${result.printability.verdict}`, checksOf(result)),
    section('Figures', figuresOf(result)),
    section('Curves', plotsOf(source)),
    section('Build and cost', makingOf(result)),
    section('What was assumed', list(assumptionsOf(result))),
    `<section class="care"><h2>Care</h2>${list(result.warnings.map(({ message }) => message))}</section>`,
    section('Parameter set and records', `<pre>${escaped(JSON.stringify({ ...evaluation, parameterSet }, null, 2))}</pre>`),
  );
}

function picturesOf(source: FileSource, result: Result): string {
  const { marked, lattice } = source;
  const of = (view: 'corner' | 'front', cut: boolean) => picture(marked, { view, cut, sizePx: SIZE_PX, colouring: byRole(marked) });
  const { struts, nodes } = pointedAt(result, lattice);
  const checked = struts.size + nodes.size > 0 ? pictureOf({ ...source, order: { name: 'picture.png', colourBy: 'checks' } }) : null;
  const pictures = [
    figure(of('corner', false), 'Seen from a corner, a colour for each role'),
    figure(of('front', true), 'The near half cut away'),
    figure(checked, 'What checks that do not pass point at'),
  ];
  return `<div class="figures">${pictures.join('\n')}</div>${figure(bouncePicture({ ...source, order: { name: 'bounce.png' } }), 'The bounce in its first orientation, evenly over time, struts coloured by strain')}`;
}

function targetsOf({ targets }: Result): string {
  const verdict = (within: boolean | null) => (within === null ? 'not computed' : within ? 'met' : 'missed');
  const rows = targets.map(({ quantity, value, min, target, max, within, missPct }) => {
    const miss = within === false ? ` by ${shown(missPct)} %` : '';
    return [quantity, shown(value), shown(min), shown(target), shown(max), verdict(within) + miss];
  });
  if (rows.length === 0) return '<p>No reference was named.</p>';
  return table(['quantity', 'value', 'least', 'target', 'most', ''], rows, (k) =>
    targets[k].within === false ? 'fail' : targets[k].within ? 'pass' : '',
  );
}

function checksOf({ printability: { checks } }: Result): string {
  const rows = checks.map(({ id, status, value, limit, unit, message }) => [
    id,
    status,
    `${shown(value)} ${unit}`,
    `${shown(limit)} ${unit}`,
    message,
  ]);
  return table(['check', 'outcome', 'value', 'limit', 'in words'], rows, (k) => checks[k].status);
}

function figuresOf({ geometry, massProperties, balance, stiffness, vibration, rebound, life }: Result): string {
  const rows: [string, string][] = [
    ['nodes, struts, cells of a layer', `${geometry.nodeCount}, ${geometry.strutCount}, ${geometry.cellCount}`],
    ['outside diameter, circumference', `${shown(geometry.outsideDiameterMm)} mm, ${shown(geometry.circumferenceMm)} mm`],
    ['volume, mass', `${shown(massProperties.volumeMm3)} mm³, ${shown(massProperties.massG)} g`],
    [
      'halves differ by',
      `${shown(balance.halfMassDifferencePct)} % across z = 0, ${shown(balance.largestHalfMassDifferencePct)} % at most`,
    ],
    ['centre of mass off by', `${shown(balance.centreOfMassOffsetMm)} mm`],
  ];
  if (stiffness)
    rows.push([
      'stiffness between plates',
      `${shown(stiffness.secantNPerMm)} N/mm at ${shown(stiffness.atDeflectionMm)} mm; strain up to ${shown(stiffness.peakStrainPct)} %`,
    ]);
  if (vibration) rows.push(['lowest natural frequencies', `${vibration.frequenciesHz.slice(0, 3).map(shown).join(', ')} Hz`]);
  if (rebound) {
    rows.push(
      [
        'dropped from, comes back to',
        `${shown(rebound.dropHeightMm)} mm, ${shown(rebound.reboundHeightMm?.mean)} mm (${shown(rebound.reboundHeightMm?.min)} to ${shown(rebound.reboundHeightMm?.max)})`,
      ],
      ['peak force, contact', `${shown(rebound.peakForceN)} N, ${shown(rebound.contactTimeMs)} ms`],
      ['peak strain in the bounce', `${shown(rebound.peakStrainPct)} %`],
      ['energy account off by', `${shown(rebound.energy.balanceErrorPct)} %`],
    );
  }
  if (life)
    rows.push([
      'bounces until the worst strut fails',
      `${shown(life.cyclesToFailure)} (${shown(life.cyclesBand.min)} to ${shown(life.cyclesBand.max)})`,
    ]);
  return table(['', ''], rows);
}

function plotsOf(source: FileSource): string {
  const drawn = (plot: PlotElement | null, caption: string) =>
    plot === null ? '' : `<figure>${plot.outerHTML}<figcaption>${escaped(caption)}</figcaption></figure>`;
  const plots = [
    drawn(forceDeflectionOf(source), 'Force over deflection between two plates; dashed: the way back'),
    drawn(heightOf(source), 'Height of the centre over time in the bounce, the floor at 0'),
    drawn(energyOf(source), 'Where the energy of the bounce went'),
    drawn(layerAreaOf(source), 'Area of the layers'),
  ];
  return `<div class="figures">${plots.join('\n')}</div>`;
}

function makingOf({ build, cost }: Result): string {
  const money = (value: { amount: number; currency: string } | undefined) => (value ? `${shown(value.amount)} ${value.currency}` : '–');
  return table(
    ['', ''],
    [
      ['parts in a build', `${build.partsPerBuild}: ${build.arrangement}`],
      [
        'time of a build',
        `${shown(build.totalHours)} h: scan ${shown(build.scanHours)}, recoat ${shown(build.recoatHours)}, warm up ${shown(build.warmUpHours)}, cool down ${shown(build.coolDownHours)}`,
      ],
      ['packing density', `${shown(build.packingDensityPct)} %`],
      ['cost of a part in a full build', money(cost?.totalPerPart)],
      ['powder for a build', `${shown(cost?.powderKgPerBuild)} kg, of it virgin ${shown(cost?.virginPowderKgPerBuild)} kg`],
    ],
  );
}

const assumptionsOf = ({ build, cost, rebound, life }: Result): string[] => [
  ...new Set([...build.assumptions, ...(cost?.assumptions ?? []), ...(rebound?.assumptions ?? []), ...(life?.assumptions ?? [])]),
];
