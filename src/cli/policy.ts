/**
 * What the page may do, as Content Security Policy Level 3 writes it: nothing leaves the machine, nothing comes from elsewhere.
 * The server says it in a header; the built page says it in itself too, so that a copy on any host is as strict.
 */

/** SHA-256 of nothing, in base64: lets a library make an empty style element and fill it rule by rule, and lets no text in. */
const EMPTY_STYLE = "'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='";

const RULES = [
  "default-src 'none'",
  // The solid's kernel is WebAssembly; that word allows it without allowing eval of text.
  "script-src 'self' 'wasm-unsafe-eval'",
  "worker-src 'self'",
  // The sliders' library needs one empty style element; element.style set from a script is no inline style.
  `style-src 'self' ${EMPTY_STYLE}`,
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "font-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
];

/** For a meta element, where frame-ancestors has no meaning. */
export const PAGE_POLICY: string = RULES.join('; ');

/** Headers of every answer: the policy, and what belongs beside it. */
export const SAFE_HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': `${PAGE_POLICY}; frame-ancestors 'none'`,
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(), microphone=(), geolocation=(), usb=(), serial=(), payment=()',
  'referrer-policy': 'no-referrer',
  'x-content-type-options': 'nosniff',
};
