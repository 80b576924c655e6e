import { z } from 'zod';

const vector = z.tuple([z.number(), z.number(), z.number()]);
const spread = z.strictObject({ mean: z.number(), min: z.number(), max: z.number() }).meta({ id: 'Spread' });
const curve = z.array(z.strictObject({ deflectionMm: z.number(), forceN: z.number() }));
/** A strut by its index in graph.json, and what kind of strut it is. */
const strutPlace = z.strictObject({ strut: z.int(), role: z.string() });

/** The material as mechanics took it. */
export const materialResult = z
  .strictObject({
    temperatureC: z.number().nullable().meta({ description: 'Temperature the values hold for; null: the record does not say' }),
    modulusMPa: z.number().meta({ description: 'Storage modulus at referenceHz' }),
    referenceHz: z.number(),
    lossFactor: z.number().nullable(),
    longTermMPa: z.number(),
    instantaneousMPa: z.number(),
    quasiStaticMPa: z.number().meta({ description: 'Modulus of the compression' }),
    relaxation: z.array(z.strictObject({ timeS: z.number(), ratio: z.number() })),
    lossDeviationPct: z.number().meta({ description: 'Largest distance of tan delta from the loss factor between 3 and 300 Hz' }),
  })
  .meta({ id: 'MaterialResult' });

/** How well the stiffness of joints is known. */
export const jointsResult = z
  .strictObject({
    bandPct: z.number().meta({
      description:
        'Stiffness computed may differ from that of the solid by this, either way: the largest difference measured on joints computed as solids',
    }),
    stoutStruts: z.int().meta({ description: 'Struts shorter than twice their diameter: outside the range of the joint model' }),
    sharpNodes: z.int().meta({ description: 'Joints with struts closer together than 75 degrees: outside the range of the joint model' }),
  })
  .meta({ id: 'JointsResult' });

export const stiffnessResult = z
  .strictObject({
    initialNPerMm: z.number().nullable().meta({ description: 'Slope of the first percent, by least squares' }),
    secantNPerMm: z.number().nullable().meta({ description: 'Force over deflection at secantAtPct of the diameter' }),
    atDeflectionMm: z.number().nullable().meta({ description: 'Deflection of the secant' }),
    curve: curve.meta({ description: 'Loading, plates just touching at 0' }),
    peakStrainPct: z.number().meta({ description: 'Largest on the way, extreme fibre where a strut leaves its node sphere' }),
    peakStrainAt: strutPlace.extend({ node: z.int() }).nullable(),
    unloading: curve.nullable(),
    loopPct: z.number().nullable().meta({ description: 'Area between loading and unloading over the area below loading' }),
    loopSpeedMmS: z.number().meta({ description: 'Speed of the plates in the loop' }),
    firstBuckling: strutPlace
      .extend({ deflectionMm: z.number(), forceN: z.number() })
      .nullable()
      .meta({ description: 'Where the stiffness stops being positive definite, and the strut that gives way' }),
    firstContact: z
      .strictObject({ deflectionMm: z.number(), forceN: z.number(), struts: z.tuple([z.int(), z.int()]) })
      .nullable()
      .meta({ description: 'Where two struts that share no node first touch; from there on the curve is too soft' }),
    snaps: z.array(z.strictObject({ deflectionMm: z.number(), forceN: z.number(), freedJ: z.number() })),
    deformedOpeningMm: z
      .array(z.strictObject({ layer: z.int(), min: z.number(), max: z.number() }))
      .meta({ description: 'Openings of the cells at the end of the curve' }),
  })
  .meta({
    id: 'StiffnessResult',
    description: 'Between two rigid plates along z, slowly; numbers that a failed run did not reach are null',
  });

export const vibrationResult = z
  .strictObject({
    frequenciesHz: z
      .array(z.number())
      .meta({ description: 'Lowest natural frequencies of the free part, rigid motions left out, each as often as it occurs' }),
  })
  .meta({ id: 'VibrationResult', description: 'Small vibrations with modulusMPa, undamped' });

const outcome = z.enum(['rebound', 'no-rebound', 'bottoms-out', 'collapsed']);
const energy = z
  .strictObject({
    incomingJ: z.number(),
    reboundJ: z.number().meta({ description: 'Weight at the height of the rebound' }),
    sidewaysJ: z.number().meta({ description: 'Of sideways motion and spin as a whole' }),
    vibrationJ: z.number().meta({ description: 'Left ringing in the part when it leaves the floor' }),
    branchesJ: z.number().meta({ description: 'Held by the springs of the relaxation branches, which will turn it to heat' }),
    dissipatedJ: z.number(),
    frictionJ: z.number(),
    balanceErrorPct: z.number().meta({ description: 'Largest error of the energy account at any time, over the incoming energy' }),
  })
  .meta({ id: 'EnergyAccount' });

export const bounce = z
  .strictObject({
    name: z.string().meta({ examples: ['pentagon', 'random-1'] }),
    down: vector.meta({ description: 'Direction of the part that points at the floor' }),
    outcome,
    reboundHeightMm: z.number().nullable(),
    restitution: z.number().nullable(),
    contactTimeMs: z.number(),
    peakForceN: z.number().meta({ description: 'Floor force averaged over 0.5 ms' }),
    peakStrainPct: z.number(),
    peakStrainAt: strutPlace.extend({ node: z.int(), timeMs: z.number() }),
    sidewaysSpeedMS: z.number().meta({ description: 'After the bounce' }),
    spinRadS: z.number().meta({ description: 'After the bounce' }),
    energy,
  })
  .meta({ id: 'Bounce', description: 'One bounce; without height and restitution where the part did not leave the floor' });

const thrown = z
  .strictObject({
    speedMS: z.number(),
    angleDeg: z.number(),
    spinRadS: z.number(),
    friction: z.number(),
    byOrientation: z.array(
      z
        .strictObject({
          name: z.string(),
          outcome,
          speedMS: z.number().meta({ description: 'After the bounce, as are angle and spin' }),
          angleDeg: z.number().meta({ description: 'Of the way out to the upright; below 0: back' }),
          spinRadS: z.number().meta({ description: 'Positive: as of a ball that rolls the way it flew' }),
          spinAlongRadS: z.number(),
          spinUprightRadS: z.number(),
          sidewaysSpeedMS: z.number(),
          normalRestitution: z.number().meta({ description: 'Upward over downward speed' }),
          tangentialShare: z.number().meta({ description: 'Share of the speed along the floor that is left' }),
          contactTimeMs: z.number(),
          peakForceN: z.number(),
          peakStrainPct: z.number(),
          energy,
        })
        .meta({ id: 'ThrownBounce' }),
    ),
  })
  .meta({ id: 'ThrownResult', description: 'A throw at the floor' });

export const reboundResult = z
  .strictObject({
    dropHeightMm: z.number(),
    reboundHeightMm: spread.nullable(),
    restitution: spread.nullable(),
    contactTimeMs: z.number().meta({ description: 'Mean over the orientations' }),
    peakForceN: z.number().meta({ description: 'Largest over the orientations' }),
    peakStrainPct: z.number().meta({ description: 'Largest over the orientations' }),
    energy: energy.meta({ description: 'Means over the orientations; the largest balance error' }),
    byOrientation: z.array(bounce),
    stepS: z.number().meta({ description: 'Of the time integration' }),
    oblique: thrown.nullable().meta({ description: 'null unless the tests ask for it' }),
    assumptions: z.array(z.string()),
  })
  .meta({
    id: 'ReboundResult',
    description: 'A virtual drop onto a rigid floor, in several orientations; heights are null in a failed run without any',
  });

export const lifeResult = z
  .strictObject({
    cyclesToFailure: z.number(),
    cyclesBand: z.strictObject({ min: z.number(), max: z.number() }).meta({ description: 'The spread that fatigue has' }),
    strainAmplitudePct: z.number(),
    criticalRole: z.string(),
    assumptions: z.array(z.string()),
  })
  .meta({ id: 'LifeResult', description: 'Bounces from the drop height until the worst strut fails; an estimate, no guarantee' });
