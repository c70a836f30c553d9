//! Codes of planning, of plans and of the work they ask for.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "program-stock-short",
        "there is too little of a paper, and no more of it can be bought",
        "Each piece by itself fits a sheet, but all of them together do not. Where the message says \
         `cannot suffice`, that is proven: no way of cutting yields them all. Where it says `no way \
         was found`, a better way may exist, and `--effort long` looks longer for it. Add sheets on \
         hand, give a sheet of the paper a price, name a second paper in the order, or order less.",
    ),
    Code::new(
        "program-set-aside",
        "paper is bought while some of it lies set aside for another batch",
        "What `plan --reserve` set aside for a batch is nobody else's until that batch is settled or dropped. \
         `cardwright shelf` shows for which batches paper is held. Where one of them will never be cut, \
         `cardwright shelf drop` gives its paper free, and planning again may buy less.",
    ),
    Code::new(
        "plan-unreadable",
        "a file is not a plan",
        "A plan is the file plan.json of a report folder, in the schema cardwright-plan-2 or, from earlier \
         versions, cardwright-plan-1. The message says what was expected at which line and column. A file that ends in .json is always taken \
         for a plan; give an order another ending.",
    ),
    Code::new(
        "plan-fault",
        "a plan breaks a rule",
        "The plan was worked out again from its geometry and its numbers, and held against its order, stock and \
         bench: those named with it, else the copies in the origin.json beside it. Something does not hold. Either \
         the plan was changed since it was written, or it is not the plan of this order, stock or bench. Plan the \
         order again.",
    ),
    Code::new(
        "schedule-grain",
        "pieces fold across the grain",
        "With `rule = \"prefer\"` under [grain], folds lie along the grain where that costs neither money nor \
         paper. Here it would, so some lie across: score these well, the ridge inside, and try one \
         first. `strict` lays all folds along the grain, at whatever price; `ignore` never looks at it. Paper \
         that is known to weigh no more than 105 g/m2 folds well either way, and nothing is said of it.",
    ),
    Code::new(
        "schedule-off-graduation",
        "a cut lies between two marks of the trimmer",
        "The gauge cannot be set to the exact distance with the marks of `graduation` under [trimmer]. \
         Mark the distance on one sheet and set the gauge to the mark, or change the sizes in the \
         order so that they are whole steps. If your gauge is finer than that, set `graduation` to \
         its finest mark.",
    ),
];
