// The one-time token comes in the address after the #, which no server and no proxy ever sees. Pure.
export function tokenInFragment(hash: string): string {
  const fragment = hash.replace(/^#/, '');
  const named = new URLSearchParams(fragment).get('token');
  if (named !== null) return named.trim();
  return fragment.includes('=') ? '' : decodedOr(fragment);
}

function decodedOr(text: string): string {
  try {
    return decodeURIComponent(text).trim();
  } catch {
    return text.trim();
  }
}
