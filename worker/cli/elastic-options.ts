import { between } from '../../openapi/common.ts';
import { densityGCm3 } from '../../openapi/material.ts';
import { modulusMPa } from '../../openapi/viscoelastic.ts';
import { choiceOption, numberOption, type OptionValues } from './command.ts';

/** Options that every command of mechanics takes. */
export const ELASTIC_OPTIONS = {
  modulusMPa: { type: 'string' },
  poisson: { type: 'string' },
  densityGCm3: { type: 'string' },
  joints: { type: 'string' },
} as const;

/** The material as plain numbers, and how joints are taken: as calibrated with solids unless they are told to have no size. */
export function elasticOptions(values: OptionValues) {
  return {
    modulusMPa: numberOption(values, 'modulusMPa', modulusMPa),
    poisson: numberOption(values, 'poisson', between(0, 0.499)),
    densityGCm3: numberOption(values, 'densityGCm3', densityGCm3),
    joints: choiceOption(values, 'joints', ['calibrated', 'none']),
  };
}
