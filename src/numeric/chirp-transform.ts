/**
 * Fourier transform of any length in place, as a convolution with a chirp: kn = (k² + n² − (k−n)²)/2. `transform` is the
 * in-place transform for powers of two. After Bluestein (1970).
 */
export function chirpTransform(re: Float64Array, im: Float64Array, transform: (re: Float64Array, im: Float64Array) => void): void {
  const n = re.length;
  let m = 1;
  while (m < 2 * n - 1) m *= 2;
  const aRe = new Float64Array(m);
  const aIm = new Float64Array(m);
  const bRe = new Float64Array(m);
  const bIm = new Float64Array(m);
  const cos = new Float64Array(n);
  const sin = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    // k² modulo 2n keeps the angle small, and with it the rounding.
    const angle = (Math.PI * ((k * k) % (2 * n))) / n;
    const c = (cos[k] = Math.cos(angle));
    const s = (sin[k] = Math.sin(angle));
    aRe[k] = re[k]! * c + im[k]! * s;
    aIm[k] = im[k]! * c - re[k]! * s;
    bRe[k] = c;
    bIm[k] = s;
    if (k > 0) {
      bRe[m - k] = c;
      bIm[m - k] = s;
    }
  }
  transform(aRe, aIm);
  transform(bRe, bIm);
  for (let i = 0; i < m; i++) {
    const real = aRe[i]! * bRe[i]! - aIm[i]! * bIm[i]!;
    aIm[i] = aRe[i]! * bIm[i]! + aIm[i]! * bRe[i]!;
    aRe[i] = real;
  }
  transform(aIm, aRe);
  for (let k = 0; k < n; k++) {
    re[k] = (aRe[k]! * cos[k]! + aIm[k]! * sin[k]!) / m;
    im[k] = (aIm[k]! * cos[k]! - aRe[k]! * sin[k]!) / m;
  }
}
