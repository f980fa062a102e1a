// Why a command could not do its work, as one line that says what to do: no stack, no code alone.

interface Failure extends Error {
  readonly code?: string;
  readonly path?: string;
  readonly address?: string;
  readonly port?: number;
}

export function failureWords(failure: unknown): string {
  if (!(failure instanceof Error)) return String(failure);
  const { code, path = 'what it needs', address, port } = failure as Failure;
  if (address !== undefined) {
    return addressWords(code, port === undefined ? address : `${address}:${port}`) ?? failure.message;
  }
  return fileWords(code, path) ?? databaseWords(code) ?? failure.message;
}

/** The service listens on its ports, and calls nobody but a database before it runs. */
function addressWords(code: string | undefined, where: string): string | undefined {
  switch (code) {
    case 'EADDRINUSE':
      return `Another program listens at ${where}. Choose another port with --http-port or --mqtt-port (0 takes a free one).`;
    case 'EACCES':
      return `This user may not listen at ${where}. Choose a port above 1023.`;
    case 'EADDRNOTAVAIL':
      return `This computer has no address ${where}. Choose one of its own with --http-host or --mqtt-host.`;
    case 'ECONNREFUSED':
    case 'ETIMEDOUT':
    case 'EHOSTUNREACH':
      return `Nothing answers at ${where}. Is the database there running, and is that its address (--journal)?`;
    case undefined:
    default:
      return undefined;
  }
}

function fileWords(code: string | undefined, path: string): string | undefined {
  switch (code) {
    case 'EACCES':
    case 'EPERM':
      return `This user has no right to ${path}. Give it the right, or name another place (--data for the data directory).`;
    case 'ENOENT':
      return `There is no file or directory ${path}. Expected one that is there.`;
    case 'EROFS':
      return `${path} is on a disk that can only be read. Name another place (--data for the data directory).`;
    case 'ENOSPC':
    case 'EDQUOT':
      return `There is no room on the disk for ${path}. Make room and start again; what was acknowledged is stored.`;
    case undefined:
    default:
      return undefined;
  }
}

/** SQLite's own codes, which come without a path. */
function databaseWords(code: string | undefined): string | undefined {
  if (code === undefined) return undefined;
  if (/^SQLITE_(?:FULL|IOERR_SHMSIZE)/.test(code)) {
    return `There is no room on the disk of the data directory (${code}). Make room and start again; what was acknowledged is stored.`;
  }
  if (/^SQLITE_(?:READONLY|CANTOPEN|PERM)/.test(code)) {
    return `This user cannot write in the data directory (${code}). Give it the right, or name another with --data.`;
  }
  return undefined;
}
