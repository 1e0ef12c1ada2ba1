/** The parts of jstat that the tests use; the package brings no types. */
declare module 'jstat' {
  const jStat: {
    gammaln(x: number): number
    normal: { inv(p: number, mean: number, sd: number): number }
    studentt: { inv(p: number, freedom: number): number }
    gamma: { inv(p: number, shape: number, scale: number): number }
    beta: { inv(p: number, a: number, b: number): number }
  }
  export default jStat
}
