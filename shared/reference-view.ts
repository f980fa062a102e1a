// Reference figures as the gateway shows them: the plant's own rows first, then the defaults, each with who says so.
import * as z from 'zod';

const common = { source: z.string(), own: z.boolean().describe("the plant's own row, which comes before the default") };

export const ReferenceView = z.object({
  interfaces: z.array(z.object({ interfaceKind: z.string(), lowUm: z.number(), highUm: z.number(), ...common })),
  densities: z.array(
    z.object({
      material: z.string(),
      densityGCm3: z.number(),
      lowGCm3: z.number().optional(),
      highGCm3: z.number().optional(),
      ...common,
    }),
  ),
  grades: z.array(z.object({ use: z.string(), gradeMmS: z.number(), ...common })),
  declaredBy: z.string().optional(),
  declaredAt: z.number().meta({ description: 'ms UTC' }).optional(),
});
export type ReferenceView = z.infer<typeof ReferenceView>;
