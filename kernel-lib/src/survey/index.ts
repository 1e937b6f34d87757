export type { ColumnMap, ForeignColumn } from "./column-map.js";
export type { DataFrameLike } from "./data-frame.js";
export { closeSheet, setStrictSheets } from "./files.js";
export type { Finding, Severity } from "./finding.js";
export { fromDataFrame } from "./from-data-frame.js";
export {
  type Gauge,
  type GaugeOptions,
  gauge,
  heightFactor,
  type Repeatability,
  resolutionUncertainty,
  stepOf,
} from "./gauge.js";
export { type GaugeUse, gaugeInputs } from "./gauge-inputs.js";
export { GaugeStudy, type GaugeStudyOptions, gaugeStudy } from "./gauge-study.js";
export type { StudyReading } from "./gauge-study-cells.js";
export { parseGaugeStudy, readGaugeStudy } from "./gauge-study-sheet.js";
export { type ComponentKey, type StudyComponent, StudySplit } from "./gauge-study-split.js";
export { Health } from "./health.js";
export type { KnownCourse } from "./known-course.js";
export type { ParseOptions } from "./parse-sheet.js";
export { type PlaceStatistic, PlaceStatistics } from "./place-statistics.js";
export { type PlanChoice, plan, SurveyPlan } from "./plan.js";
export { diameterAbove, missChance, pitchFor } from "./plan-detection.js";
export type { ExpectedUncertainty } from "./plan-expected.js";
export type { PlanOptions, SmallestDefect } from "./plan-options.js";
export type { PlannedReading } from "./plan-order.js";
export type { Area, Facing, Hole, Obstacle, Outline, OutlineOptions, Slot } from "./plan-outline.js";
export type { Detection } from "./plan-pitch.js";
export type { PlannedGrid, PlannedPlace } from "./plan-places.js";
export { isMirrored } from "./preamble-frame.js";
export { type ReadOptions, readSurvey } from "./read-survey.js";
export type { Blank, Place, Reading } from "./reading.js";
export type { RepeatScatter } from "./repeatability.js";
export type {
  LengthUnit,
  Look,
  Protocol,
  ProtocolKey,
  Removal,
  Sheet,
  SheetPreamble,
  SheetRow,
  SheetUnits,
  Span,
  StatedTemperature,
  TemperatureUnit,
  TimeUnit,
} from "./sheet.js";
export type { Edge, Frame, RelativeTo, Surface, SurfaceDrift, SurfacePlace, Toward } from "./surface.js";
export { parseSurvey, type SheetFile, Survey } from "./survey.js";
export { type NextPlace, NextPlaces, whereNext } from "./where-next.js";
