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

  /* Number, mean, standard deviation, coefficient of variation and 95 % interval of the mean.

     The quantiles of Student's t at 0.975 are those of the engine and come with the page, the first for one degree of
     freedom; the form takes no more bars than there are quantiles for. Of one value only the mean can be had. */
  function summarise(values, quantiles) {
    const n = values.length;
    if (n === 1) return { n, mean: values[0], deviation: null, variation_pct: null, interval: null };
    const [mean, deviation] = meanAndDeviation(values);
    const half = (quantiles[n - 2] * deviation) / Math.sqrt(n);
    return {
      n,
      mean,
      deviation,
      variation_pct: mean ? (100 * deviation) / Math.abs(mean) : null,
      interval: [mean - half, mean + half],
    };
  }

  worksheet.summary = Object.freeze({ sum, summarise });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
