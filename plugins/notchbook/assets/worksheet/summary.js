/* Mean and spread of a set, as the engine's room of statistics finds them. */

(function (worksheet) {
  "use strict";

  /* A sum that carries along what rounding takes from it (Neumaier, ZAMM 54 (1974) 39-51). */
  function sum(values) {
    let total = 0;
    let lost = 0;
    for (const value of values) {
      const next = total + value;
      lost += Math.abs(total) >= Math.abs(value) ? total - next + value : value - next + total;
      total = next;
    }
    return total + lost;
  }

  /* Mean and standard deviation (n - 1), in two passes: what rounding left in the mean is taken out of the spread. */
  function meanAndDeviation(values) {
    const n = values.length;
    const [first] = values;
    // rounding of the mean must not pass for spread
    if (values.every(value => value === first)) return [first, 0];
    const mean = sum(values) / n;
    const deviations = values.map(value => value - mean);
    const aboutMean = Math.hypot(...deviations);
    const shift = Math.abs(sum(deviations)) / Math.sqrt(n);
    return [mean, Math.sqrt(aboutMean - shift) * Math.sqrt((aboutMean + shift) / (n - 1))];
  }

  /* Student's t at 0.975 for one degree of freedom and more, whole or not: the polynomial in 1 over the freedom through the
     engine's values at the Chebyshev points from 0 to 1, in its barycentric form (Berrut and Trefethen, SIAM Review 46
     (2004) 501-517, from memory). */
  function studentT(freedom, values) {
    const last = values.length - 1;
    let above = 0;
    let below = 0;
    for (const [place, value] of values.entries()) {
      const apart = 1 / freedom - Math.sin((Math.PI * place) / (2 * last)) ** 2;
      if (apart === 0) return value;
      const weight = (place % 2 ? -1 : 1) / (place % last ? apart : 2 * apart);
      above += weight * value;
      below += weight;
    }
    return above / below;
  }

  /* Number, mean, standard deviation, coefficient of variation and 95 % interval of the mean.

     The engine's values of Student's t come with the page. Of one value only the mean can be had. */
  function summarise(values, student_t) {
    const n = values.length;
    if (n === 1) return { n, mean: values[0], deviation: null, variation_pct: null, interval: null };
    const [mean, deviation] = meanAndDeviation(values);
    const half = (studentT(n - 1, student_t) * deviation) / Math.sqrt(n);
    return {
      n,
      mean,
      deviation,
      variation_pct: mean ? (100 * deviation) / Math.abs(mean) : null,
      interval: [mean - half, mean + half],
    };
  }

  worksheet.summary = Object.freeze({ sum, studentT, summarise });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
