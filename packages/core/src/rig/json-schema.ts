import * as z from 'zod';
import { partsFile } from './parts-file.js';
import { readingsFile } from './readings-part.js';
import { rigFile } from './rig-file.js';
import { tripFile } from './trip-file.js';

/** JSON Schemas (draft 2020-12) of the files that people write, so that an editor completes and checks them. */
export function jsonSchemas(): Record<'rig' | 'trip' | 'parts' | 'readings', object> {
  const schema = (title: string, file: z.ZodType) => ({
    title,
    ...z.toJSONSchema(file, { io: 'input', override: keepExamples }),
  });
  return {
    rig: schema('Rig', rigFile),
    trip: schema('Trip', tripFile),
    parts: schema('Parts list', partsFile),
    readings: schema('Readings', readingsFile),
  };
}

/** zod drops the examples of a value that it transforms, and shared parts are given once, by name. */
function keepExamples({
  zodSchema,
  jsonSchema,
}: {
  zodSchema: z.core.$ZodTypes;
  jsonSchema: z.core.JSONSchema.BaseSchema;
}): void {
  const examples = z.globalRegistry.get(zodSchema)?.examples;
  if (Array.isArray(examples)) jsonSchema.examples = examples;
}
