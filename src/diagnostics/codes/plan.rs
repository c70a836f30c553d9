//! Codes of planning, of plans and of the work they ask for.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "program-stock-short",
        "there is not enough of a paper, and more of it cannot be bought",
        "Each piece by itself fits a sheet, but all of them together do not. If the message says `is not \
         enough`, that is proven: no way of cutting makes them all. If it says `no plan was found`, one may \
         exist, and `--effort long` searches longer for it. Add sheets on hand, give a sheet of the paper a \
         price, name a second paper in the order, or order less. The message says how many complete cards can be made; \
         `plan --as-many` plans these, and `plan --rest` the others when more paper has come.",
    ),
    Code::new(
        "program-supply-short",
        "there are not enough envelopes or sundries, and no more can be bought",
        "The cards of the order, with the spares that you ask for, take more than you have, and it has no price. Write what \
         you really have under `on hand`, or a price if more can be bought; or order less. The message says how many \
         complete cards there is enough for; `plan --as-many` plans these.",
    ),
    Code::new(
        "program-as-many",
        "only a part of the order is planned, since there is not enough for all of it",
        "With `--as-many`, each line gets as many complete cards as the paper makes, with their envelopes and spares: \
         lines in the order of their dates, those without one last, then as in the file. The message says what is left \
         out. Get more paper for it, and plan it with `--rest` once this part is settled.",
    ),
    Code::new(
        "program-set-aside",
        "paper is bought while some of it is set aside for another batch",
        "Paper that `plan --reserve` set aside for a batch stays out of other plans until that batch is \
         settled, or `cardwright shelf drop BATCH` releases it. `cardwright shelf` shows which batches hold paper. If \
         one of them will never be cut, release its paper and plan again: you may have to buy less.",
    ),
    Code::new(
        "plan-unreadable",
        "a file is not a plan",
        "A plan is the file plan.json of a report folder, in the schema cardwright-plan-2 or, from older \
         versions, cardwright-plan-1. The message says what was expected, and in which line and column. A file \
         name that ends in .json is always taken for a plan; give an order another ending.",
    ),
    Code::new(
        "plan-fault",
        "a plan breaks a rule",
        "The whole plan is worked out again and compared with its order, stock and bench: those you name, \
         else the copies in the origin.json beside it. Something does not agree. Either the plan was changed \
         after it was written, or it belongs to another order, stock or bench. Plan the order again.",
    ),
    Code::new(
        "plan-sets",
        "a plan is said to make more than was ordered",
        "A plan made with `--as-many` makes a part of its order. How many sets of which lines these are stands under \
         `sets` in the origin.json beside it. Here it names a line that is not ordered, or more sets than are, or leaves \
         nothing to make. Either the note or the order was changed after the plan was made. Plan the order again.",
    ),
    Code::new(
        "schedule-grain",
        "pieces fold across the grain",
        "With `rule = \"prefer\"` under [grain], folds lie along the grain if that costs neither money nor \
         paper. Here it would, so some lie across: score these well, fold with the ridge inside, and try one \
         first. `strict` lays cards, and what is glued to them, along the grain, whatever it costs (not envelopes and their liners); `ignore` never looks at it. Paper \
         of no more than 105 g/m2 folds well either way, so there is no warning.",
    ),
    Code::new(
        "schedule-reach",
        "a cut lies farther from the fence than the gauge can be set",
        "`reach` under [trimmer] is the farthest setting of your gauge; without it, the length of the knife. Of the strips \
         of a sheet one is left over and needs no setting: the planner leaves one that is too wide, if it can. What is left \
         to warn of, you measure with a ruler.",
    ),
    Code::new(
        "schedule-hold",
        "a strip between fence and knife is too narrow to be held",
        "`smallest_hold` under [trimmer] is the narrowest strip that you can hold while you cut it. Paper that is not held \
         moves, and fingers come near the blade. Set the gauge to what is to be left instead, so that the wide part is held.",
    ),
    Code::new(
        "schedule-waiting",
        "more stacks wait on the bench than it has room for",
        "`waiting` under [trimmer] is how many cut stacks may wait on your bench at once; without it, 10. Uncut sheets, finished \
         pieces and strips for the drawer do not count. Cuts with one gauge setting go together as far as there is room. Where \
         no order of the cuts needs so little, the one with the fewest stacks is taken: lay some of them on a chair, their names on top.",
    ),
    Code::new(
        "quote-wholesale",
        "a line sold to resellers would bring less than it costs",
        "`wholesale_percent` under [rates] is what resellers pay, in percent of the price; the price is the cost and your margin. A \
         margin of 30 % leaves 70 % of the price as the cost, so below 70 % nothing is earned.",
    ),
    Code::new(
        "schedule-off-graduation",
        "a cut or a score lies between two marks of the gauge",
        "The gauge has no mark for the exact distance; `graduation` under [trimmer] says how far its marks are \
         apart. Mark the distance on one sheet and set the gauge to it, or choose sizes that fall on a mark. \
         If your gauge is finer, set `graduation` to its finest mark.",
    ),
];
