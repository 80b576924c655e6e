/** Kronrod's 15 abscissae on [0, 1] by symmetry (QUADPACK, Piessens et al. 1983, QK15), their weights, and the weights of the 7-point Gauss rule. */
const ABSCISSAE = [
  0.9914553711208126, 0.9491079123427585, 0.8648644233597691, 0.7415311855993945, 0.5860872354676911, 0.4058451513773972,
  0.20778495500789848, 0,
];
const KRONROD = [
  0.022935322010529224, 0.06309209262997856, 0.10479001032225019, 0.14065325971552592, 0.1690047266392679, 0.19035057806478542,
  0.20443294007529889, 0.20948214108472782,
];
const GAUSS = [0, 0.1294849661688697, 0, 0.27970539148927664, 0, 0.3818300505051189, 0, 0.4179591836734694];

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
