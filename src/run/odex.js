export { Solver } from 'odex'
