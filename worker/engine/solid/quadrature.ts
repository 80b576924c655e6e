/** Kronrod's 15 abscissae on [0, 1] by symmetry (QUADPACK, Piessens et al. 1983, QK15), their weights, and the weights of the 7-point Gauss rule. */
const ABSCISSAE = [
  0.991455371120812639206854697526329, 0.949107912342758524526189684047851, 0.864864423359769072789712788640926,
  0.741531185599394439863864773280788, 0.58608723546769113029414469316333, 0.405845151377397166906606412076961,
  0.207784955007898467600689403773245, 0,
];
const KRONROD = [
  0.02293532201052922496373200805897, 0.063092092629978553290700663189204, 0.104790010322250183839876322541518,
  0.140653259715525918745189590510238, 0.16900472663926790282829543641323, 0.190350578064785409913256402421014,
  0.204432940075298892414161999234649, 0.209482141084727828012999174891714,
];
const GAUSS = [
  0, 0.129484966168869693270611432679082, 0, 0.27970539148927666790146777142378, 0, 0.381830050505118944950369775488975, 0,
  0.417959183673469387755102040816327,
];

/** Nodes of the substituted rule, see below. */
export const POINTS = 15;
/** sin(pi x / 2) at Kronrod's abscissae x, ascending. */
export const NODE = new Float64Array(POINTS);
/** Kronrod and Gauss weights times (pi / 2) cos(pi x / 2). */
export const KRONROD_WEIGHT = new Float64Array(POINTS);
export const GAUSS_WEIGHT = new Float64Array(POINTS);

/**
 * The variable of integration is half-width * sin(theta): an integrand with square-root ends, as where a line begins to graze a round body,
 * is then analytic in theta, and the rule converges as fast as on a smooth one.
 */
for (let k = 0; k < POINTS; k++) {
  const from = k < 8 ? k : 14 - k;
  const x = (k < 8 ? -1 : 1) * ABSCISSAE[from];
  const slope = (Math.PI / 2) * Math.cos((Math.PI / 2) * x);
  NODE[k] = Math.sin((Math.PI / 2) * x);
  KRONROD_WEIGHT[k] = KRONROD[from] * slope;
  GAUSS_WEIGHT[k] = GAUSS[from] * slope;
}
