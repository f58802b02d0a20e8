/**
 * What the page may load and do. The server sends it with every answer, a worker's script included, which a policy inside
 * the page does not cover; the built page carries it too, for servers that send no headers of their own.
 */
export const pageRules = {
  'default-src': "'none'",
  'script-src': "'self'",
  'style-src': "'self'",
  'img-src': "'self' data: blob:",
  'font-src': "'self'",
  'connect-src': "'self'",
  'worker-src': "'self'",
  'manifest-src': "'self'",
  'base-uri': "'none'",
  'form-action': "'none'",
}

/**
 * @param {Readonly<Record<string, string>>} rules
 * @returns {string}
 */
export const policyOf = (rules) =>
  Object.entries(rules)
    .map(([name, sources]) => `${name} ${sources}`)
    .join('; ')

/** For a meta element, where frame-ancestors is not allowed. */
export const pagePolicy = policyOf(pageRules)

export const policy = `${pagePolicy}; frame-ancestors 'none'`

export const securityHeaders = {
  'Content-Security-Policy': policy,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
}
