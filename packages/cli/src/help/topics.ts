import type { Block } from './blocks.js';

/** A subject of help beside the commands; its text is made when it is asked for. */
export interface Topic {
  readonly name: string;
  readonly summary: string;
  readonly load: () => Promise<readonly Block[]>;
}

export const TOPICS: readonly Topic[] = [
  {
    name: 'rig',
    summary: 'every key of a rig file, with its default',
    load: async () => (await import('./file-topics.js')).rigTopic(),
  },
  {
    name: 'trip',
    summary: 'every key of a trip file',
    load: async () => (await import('./file-topics.js')).tripTopic(),
  },
  {
    name: 'parts',
    summary: 'every key of a parts list, for size',
    load: async () => (await import('./file-topics.js')).partsTopic(),
  },
  {
    name: 'readings',
    summary: 'every key of a file of readings, for calibrate',
    load: async () => (await import('./file-topics.js')).readingsTopic(),
  },
  {
    name: 'units',
    summary: 'how quantities, times and expressions are written',
    load: async () => (await import('./units-topic.js')).unitsTopic(),
  },
  {
    name: 'weather',
    summary: 'made weather, and the weather files that can be read',
    load: async () => (await import('./weather-topic.js')).weatherTopic(),
  },
  {
    name: 'logs',
    summary: "how a monitor's log is read",
    load: async () => (await import('./logs-topic.js')).logsTopic(),
  },
  {
    name: 'places',
    summary: 'the places that --place knows by name',
    load: async () => (await import('./places-topic.js')).placesTopic(),
  },
];
