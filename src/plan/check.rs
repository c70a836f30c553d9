//! The judge: re-derives every rule from the plan alone and shares no code with the solver.
