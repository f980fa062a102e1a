// How large a recorded file may be, and what happens beyond.

/** Beyond it a file is refused unread: a page has to hold it in memory, and its samples a second time. */
export const FILE_BYTES_MAX = 64 * 1024 * 1024;

/** Beyond it a file is refused: hand-held recorders have two to eight, and nobody looks at more pictures one by one. */
export const CHANNELS_MAX = 16;

/** Columns of a table, those that are no acceleration among them. Beyond it a table is refused. */
export const COLUMNS_MAX = 64;

/** Over all channels of a file: 64 MiB as doubles. Beyond it a file is refused, and told to be cut into parts. */
export const SAMPLES_MAX = 8 * 1024 * 1024;

/** Faults told of one file. Beyond it only how many more there are is told. */
export const FAULTS_TOLD_MAX = 20;

/** Lines looked at for the head of a table. A head that is longer is not found: the file is refused. */
export const HEAD_LINES_MAX = 400;

/** Bytes of one line. Beyond it a file is taken for something else than a table, and refused. */
export const LINE_BYTES_MAX = 64 * 1024;

/** m/s², or the file's own unit: no vibration is larger, and squares of it stay far from the end of a double. Beyond it: refused. */
export const VALUE_MAX = 1e9;
