import {
  Compensation,
  Diagnosis,
  DriveTrain,
  LiftUnderPull,
  Positioning,
  PositioningPlan,
  PositioningTest,
  SmallMoves,
  SystematicPart,
  ThreeAxes,
} from "../axis/index.js";
import { Acceptance, GlobalRisk, SmallestChange, SpecificRisk, Verdict } from "../conformity/index.js";
import { Decision, ExpectedCost } from "../decision/index.js";
import {
  Bedding,
  CuttingConditions,
  CuttingProgram,
  FacedPlate,
  FacingDepth,
  HoldDown,
  Passes,
  Plate,
  Preload,
  Reach,
  Replay,
  Ridges,
  ScrewClearance,
} from "../facing/index.js";
import { Figure } from "../figure/index.js";
import {
  ChanceAbove,
  FittedSurface,
  Flatness,
  FormReading,
  LeaveOneOut,
  LevelNetwork,
  LocalHighs,
  LocalLows,
  MakeUp,
  ReferencePlane,
  ShimSheet,
  SpindleTram,
  Squareness,
  StraightedgeReversal,
  Straightness,
  SurfaceComparison,
  SurfaceRaster,
  TravelAndTable,
} from "../form/index.js";
import {
  BoltedPair,
  Joint,
  Material,
  Materials,
  Settling,
  type SettlingKind,
  Wait,
  WarmthBow,
  WarmthCorrection,
  WarmUp,
} from "../heat/index.js";
import {
  AgainstReference,
  Difference,
  NewSurface,
  ReferenceValues,
  ResultRecord,
  Settled,
  Trend,
} from "../proof/index.js";
import { display, type MimeBundle } from "../quantity/display-member.js";
import type { Kind } from "../quantity/kinds.js";
import { Quantity } from "../quantity/quantity.js";
import { GaugeStudy, Health, NextPlaces, PlaceStatistics, StudySplit, Survey, SurveyPlan } from "../survey/index.js";
import {
  Budget,
  Budgets,
  CorrelatedGroup,
  Input,
  JointMonteCarlo,
  Measured,
  MonteCarlo,
  PooledSpread,
} from "../uncertainty/index.js";
import { trialProgress } from "../uncertainty/trial-progress.js";
import { figureBundle } from "./figure-bundle.js";
import { type Presenter, sentencePresenter } from "./present.js";
import { presentAgainstReference } from "./present-against-reference.js";
import { presentPositioning, presentPositioningTest } from "./present-axis.js";
import {
  presentDriveTrain,
  presentLiftUnderPull,
  presentSmallMoves,
  presentSystematicPart,
} from "./present-axis-parts.js";
import { presentBedding } from "./present-bedding.js";
import {
  presentAcceptance,
  presentBudgets,
  presentCorrelatedGroup,
  presentGlobalRisk,
  presentInput,
  presentMeasured,
  presentPooledSpread,
  presentSmallestChange,
  presentSpecificRisk,
  presentVerdict,
} from "./present-budgets.js";
import { presentCompensation } from "./present-compensation.js";
import { presentConditions, presentFacedPlate } from "./present-conditions.js";
import { presentDecision, presentExpectedCost } from "./present-decision.js";
import { presentDiagnosis } from "./present-diagnosis.js";
import {
  presentFlatness,
  presentFormReading,
  presentLocalHighs,
  presentLocalLows,
  presentMakeUp,
  presentReferencePlane,
  presentStraightness,
} from "./present-form.js";
import { presentLevelNetwork } from "./present-geometry.js";
import {
  presentBoltedPair,
  presentJoint,
  presentMaterial,
  presentMaterials,
  presentSettling,
  presentWait,
  presentWarmthBow,
  presentWarmthCorrection,
  presentWarmUp,
} from "./present-heat.js";
import { presentHoldDown, presentPlate, presentPreload } from "./present-hold-down.js";
import { presentJointMonteCarlo, presentMonteCarlo } from "./present-monte-carlo.js";
import { presentPlaceStatistics } from "./present-place-statistics.js";
import { presentDepth, presentPasses, presentReach, presentRidges, presentScrewClearance } from "./present-plan.js";
import { presentNextPlaces, presentPlan } from "./present-planning.js";
import { presentPositioningPlan } from "./present-positioning-plan.js";
import { presentProgram, presentReplay } from "./present-program.js";
import { presentDifference, presentNewSurface, presentRecord, presentSettled, presentTrend } from "./present-proof.js";
import { presentSplit, presentStudy } from "./present-study.js";
import {
  presentChanceAbove,
  presentFittedSurface,
  presentLeaveOneOut,
  presentSurfaceComparison,
  presentSurfaceRaster,
} from "./present-surface.js";
import { presentHealth, presentSurvey } from "./present-survey.js";
import { presentThreeAxes } from "./present-three-axes.js";
import { presentReversal, presentShims, presentSquareness, presentTram } from "./present-tram.js";
import { presentBudget } from "./present-uncertainty.js";
import { Progress, progress } from "./progress.js";
import { quantityBundle } from "./quantity-bundle.js";

/** A class and how its values are shown. */
interface Row {
  readonly prototype: object;
  readonly attach: () => void;
}

function row<T extends object>(shown: { readonly prototype: T }, presenter: Presenter<T>): Row {
  const member = {
    configurable: true,
    value(this: T): MimeBundle {
      return presenter(this);
    },
  };
  return { prototype: shown.prototype, attach: () => Object.defineProperty(shown.prototype, display, member) };
}

/** The one table from class to presenter: a new class that a notebook meets gets one row here. */
const rows: readonly Row[] = [
  row<Quantity<Kind>>(Quantity, quantityBundle),
  row<Input<Kind>>(Input, presentInput),
  row<Measured<Kind>>(Measured, presentMeasured),
  row<Budget<Kind>>(Budget, presentBudget),
  row<Budgets<{ readonly [name: string]: Quantity<Kind> }>>(Budgets, presentBudgets),
  row<PooledSpread<Kind>>(PooledSpread, presentPooledSpread),
  row(CorrelatedGroup, presentCorrelatedGroup),
  row<MonteCarlo<Kind>>(MonteCarlo, presentMonteCarlo),
  row<JointMonteCarlo<{ readonly [name: string]: Kind }>>(JointMonteCarlo, presentJointMonteCarlo),
  row(Survey, presentSurvey),
  row(PlaceStatistics, presentPlaceStatistics),
  row(Health, presentHealth),
  row(GaugeStudy, presentStudy),
  row(StudySplit, presentSplit),
  row(SurveyPlan, presentPlan),
  row(NextPlaces, presentNextPlaces),
  row<Verdict<Kind>>(Verdict, presentVerdict),
  row<SmallestChange<Kind>>(SmallestChange, presentSmallestChange),
  row<Acceptance<Kind>>(Acceptance, presentAcceptance),
  row<SpecificRisk<Kind>>(SpecificRisk, presentSpecificRisk),
  row<GlobalRisk<Kind>>(GlobalRisk, presentGlobalRisk),
  row(Flatness, presentFlatness),
  row(ReferencePlane, presentReferencePlane),
  row(Straightness, presentStraightness),
  row(LevelNetwork, presentLevelNetwork),
  row(SpindleTram, presentTram),
  row(ShimSheet, presentShims),
  row(Squareness, presentSquareness),
  row(TravelAndTable, sentencePresenter()),
  row(StraightedgeReversal, presentReversal),
  row(LocalHighs, presentLocalHighs),
  row(LocalLows, presentLocalLows),
  row(MakeUp, presentMakeUp),
  row(FormReading, presentFormReading),
  row(Diagnosis, presentDiagnosis),
  row(ThreeAxes, presentThreeAxes),
  row(PositioningPlan, presentPositioningPlan),
  row(PositioningTest, presentPositioningTest),
  row(Positioning, presentPositioning),
  row(DriveTrain, presentDriveTrain),
  row(SmallMoves, presentSmallMoves),
  row(LiftUnderPull, presentLiftUnderPull),
  row(Material, presentMaterial),
  row(Materials, presentMaterials),
  row<Settling<SettlingKind>>(Settling, presentSettling),
  row(Wait, presentWait),
  row(WarmUp, presentWarmUp),
  row(WarmthBow, presentWarmthBow),
  row(WarmthCorrection, presentWarmthCorrection),
  row(BoltedPair, presentBoltedPair),
  row(Joint, presentJoint),
  row(SystematicPart, presentSystematicPart),
  row(FittedSurface, presentFittedSurface),
  row(ChanceAbove, presentChanceAbove),
  row(LeaveOneOut, presentLeaveOneOut),
  row(SurfaceComparison, presentSurfaceComparison),
  row(SurfaceRaster, presentSurfaceRaster),
  row(Compensation, presentCompensation),
  row(FacingDepth, presentDepth),
  row(Plate, presentPlate),
  row(Preload, presentPreload),
  row(HoldDown, presentHoldDown),
  row(CuttingProgram, presentProgram),
  row(CuttingConditions, presentConditions),
  row(FacedPlate, presentFacedPlate),
  row(Replay, presentReplay),
  row(Bedding, presentBedding),
  row(Passes, presentPasses),
  row(Reach, presentReach),
  row(Ridges, presentRidges),
  row(ScrewClearance, presentScrewClearance),
  row(Decision, presentDecision),
  row(ExpectedCost, presentExpectedCost),
  row(Difference, presentDifference),
  row(Settled, presentSettled),
  row(AgainstReference, presentAgainstReference),
  row(ReferenceValues, sentencePresenter<ReferenceValues>()),
  row(NewSurface, presentNewSurface),
  row(ResultRecord, presentRecord),
  row(Trend, presentTrend),
  row(Figure, figureBundle),
  row(Progress, sentencePresenter()),
];

for (const { attach } of rows) attach();
// a simulation says how far it is
Object.defineProperty(Budget.prototype, trialProgress, { configurable: true, value: progress });

/** Of these values, those that a notebook could meet but that have no presenter: classes without the display member. */
export function classesWithoutPresenter(exported: { readonly [name: string]: unknown }): readonly string[] {
  return Object.entries(exported)
    .filter(([, value]) => isClass(value) && !(value.prototype instanceof Error) && !(display in value.prototype))
    .map(([name]) => name);
}

function isClass(value: unknown): value is { readonly prototype: object } {
  return typeof value === "function" && /^class\b/.test(Function.prototype.toString.call(value));
}
