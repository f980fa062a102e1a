// Every bound of the journal, named in one place.

/** A merged stretch is closed when it reaches either of these. */
export const MERGED_ENTRIES_MAX = 8192;
export const MERGED_BYTES_MAX = 524_288;
/** Rows that merging fetches at once. */
export const MERGE_PAGE_ROWS = 128;
/** A merged stretch smaller than this is kept as it is: compressing it would save nothing that matters. */
export const COMPRESS_BYTES_MIN = 512;

/** Missing stretches of sequence remembered for one boot of one device; beyond that the oldest counts as received. */
export const GAPS_PER_BOOT_MAX = 1024;
/** Boots of one device whose sequences are remembered, the most recently heard of. */
export const BOOTS_PER_SOURCE_MAX = 16;

/** Ids remembered for one source that sends no sequence, and for all such sources together. */
export const RECENT_IDS_PER_SOURCE_MAX = 4096;
export const RECENT_IDS_TOTAL_MAX = 400_000;
/** Ids by which a journal that forgets still tells repeats. */
export const FORGETFUL_IDS_MAX = 1_000_000;
/** How far back the tail is read at open to remember such ids again. */
export const RECENT_TAIL_ENTRIES = 65_536;

/** What is remembered of sequences is written down beside a commit after so many entries: the tail to read at open. */
export const MEMORY_SAVED_EVERY_ENTRIES = 65_536;

/** Of a large stretch so many entries are given at a time. */
export const SLICE_ENTRIES = 512;

/** Reading fetches about so many entries at a time, but never more rows than this. */
export const READ_AHEAD_ENTRIES = 8192;
export const READ_AHEAD_ROWS_MAX = 512;

/** Waits between two tries of the same batch on a full disk, ms: doubled each time. */
export const FULL_WAIT_FIRST_MS = 50;
export const FULL_WAIT_MAX_MS = 5000;

/** SQLite: pages in the write-ahead log before it is folded into the file, and the size it is cut back to, bytes. */
export const WAL_PAGES = 8000;
export const WAL_BYTES_KEPT = 67_108_864;
/** Pages in memory: what is written goes to the end, and what is read is read once. */
export const SQLITE_CACHE_KIB = 2048;

export const SNAPSHOTS_KEPT = 2;
export const SNAPSHOT_VERSIONS_KEPT = 3;

/** PostgreSQL: connections for reading, beside the one that appends. */
export const POSTGRES_READERS_MAX = 3;
export const POSTGRES_CONNECT_MS = 10_000;

/** Links of the chain that are fetched at once where it is looked through. */
export const LINKS_PAGE = 4096;
