/** What the battery is made of: lithium iron phosphate, or lead-acid with its acid held in glass mat, in gel, or free. */
export type Chemistry = 'LFP' | 'AGM' | 'gel' | 'flooded';

/**
 * The family of each: lead-acid wants to be full and gives off hydrogen, lithium must not be charged frozen and has a
 * management system.
 */
const FAMILY: Readonly<Record<Chemistry, 'lithium' | 'lead'>> = {
  LFP: 'lithium',
  AGM: 'lead',
  gel: 'lead',
  flooded: 'lead',
};

/** As they are written in a file. */
export const CHEMISTRY_NAMES = Object.keys(FAMILY) as Chemistry[];

/** Lead-acid, else lithium. */
export const isLead = (chemistry: Chemistry): boolean => FAMILY[chemistry] === 'lead';
