//! Codes of the shelf and of settling.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "settle-origin",
        "a report folder does not say what its plan was made from",
        "Beside plan.json stands origin.json. It says in which files the paper is listed, and keeps a copy of order, \
         stock and bench. Without it, or with one that does not go with the plan, a batch cannot be settled: plan \
         the order again.",
    ),
    Code::new(
        "settle-path",
        "a report does not belong to the folder you are in",
        "origin.json counts its paths from the folder in which the order was planned, and says where the report lay \
         there. From any other folder, these paths could lead to another shelf, or to any file. Go to the folder of \
         the workshop, or name the files with --sheets and --offcuts.",
    ),
    Code::new(
        "settle-changed",
        "a sheet or offcut of the plan is not on the shelf as it was planned",
        "Somebody has edited the files since, or another batch was settled first. Of what is not \
         bought, enough must lie there. Of what is bought, exactly as much as when the plan was made, \
         since otherwise nobody knows whether the purchase is counted already: `--counted` says that \
         it is.",
    ),
    Code::new(
        "settle-unfit",
        "a plan no longer fits the shelf",
        "Everything that differs stands above it. Nothing was changed. Where the cards are not cut \
         yet, plan the order again. Where they are, count what lies there, mend the files and settle \
         again.",
    ),
    Code::new(
        "settle-limits",
        "a settled shelf would go beyond what its files may hold",
        "A file has at most 200 columns, 16 MiB and 1 000 000 sheets of a name. Delete columns that \
         nobody needs, or part what lies there over several names.",
    ),
    Code::new(
        "settle-open",
        "an order is planned as a whole although a part of it was settled",
        "A part of an earlier plan of it was cut and settled, and the report folder is replaced by a \
         plan of all its cards. Where only the rest is wanted, mend the counts in the order and plan \
         again; where the part is to be taken back, do that from the earlier report or with \
         `cardwright shelf rebuild`.",
    ),
    Code::new(
        "settle-twice",
        "a batch is settled already",
        "The journal knows it. `--undo` takes it back, to the very bytes of before. An order that is \
         made once more is planned once more: its plan is then another one.",
    ),
    Code::new(
        "settle-part",
        "a part of a plan is named that it does not have",
        "`--partly` names runs as the schedule does, with the sheets that are cut of them: R1=12,R3=5. \
         What was settled before does not count again.",
    ),
    Code::new(
        "settle-undo",
        "a settled batch cannot be taken back",
        "It was never settled, or the files have changed since, or what it put in the drawer is set aside for another \
         batch. The last change is taken back first, \
         then the one before it, so that each leaves the very bytes of before. An edit by hand is taken \
         back by `cardwright shelf rebuild`, which keeps it in the journal.",
    ),
    Code::new(
        "settle-past",
        "a report does not follow from what the journal holds",
        "A report says how long the journal was when it was planned. If the journal is shorter now, the report is of \
         another shelf, or entries are missing. If another plan of the same order was settled since, the cards of this \
         one are those of that one. Plan the order again where it is made once more.",
    ),
    Code::new(
        "settle-reserved",
        "paper is set aside for another plan of the batch",
        "`plan --reserve` sets paper aside for the plan that it makes. This one was made before, or its files were \
         changed since. Settle the plan for which the paper is set aside, plan again, or release the paper with \
         `cardwright shelf drop`.",
    ),
    Code::new(
        "reserve-taken",
        "paper was taken while a batch was planned",
        "Another batch was settled, or had paper set aside, between the reading of the files and the \
         end of planning. Nothing is set aside; the reports are those of a plan that may not fit any \
         more. Plan again.",
    ),
    Code::new(
        "reserve-none",
        "no paper is set aside for a batch",
        "`cardwright plan … --reserve` sets paper aside, and settling the batch uses it up. `cardwright \
         shelf` says for which batches there is some.",
    ),
    Code::new(
        "shelf-files",
        "sheets and offcuts are not two files of the person's own",
        "A shelf is a table of sheets and a table of offcuts, each in its own file. The journal \
         shelf.jsonl, the lock and files that are being written cannot be either.",
    ),
    Code::new(
        "shelf-journal",
        "the journal of a shelf is not as it was written",
        "shelf.jsonl holds a line for everything that befell the shelf, each with a fingerprint of the \
         line before it. A line was changed, or is missing. Take the file from a copy; or move it away, \
         and a new one begins with the files as they are. Then batches settled before cannot be taken \
         back.",
    ),
    Code::new(
        "shelf-cut",
        "the journal of a shelf ends before its last entry",
        "Each change of the shelf notes in .shelf.lock where the journal ends. Entries that were noted are not \
         there: shelf.jsonl is gone, an older one was put in its place, or its last lines were taken off. If the files \
         were put back with it, all goes on from there. If they were not, nothing is changed, since a batch \
         could be settled twice: take the journal from a copy, or let `cardwright shelf rebuild` go on from \
         the entries that are left. Where there are none and no copy, remove .shelf.lock, and a new journal begins.",
    ),
    Code::new(
        "shelf-drawer",
        "a file belongs to another shelf",
        "A shelf is the sheets of a folder and one drawer, and a drawer belongs to one shelf: what two shelves \
         change in it would be lost, and the same offcuts be set aside twice. Whose it is says the journal \
         beside the sheets; beside a drawer in another folder, a hidden mark such as .offcuts.csv.shelf says \
         where those are. The first shelf that is changed gets the drawer. Give each shelf a drawer of its \
         own, or work on the one shelf with `--sheets`. If that shelf is no longer used, move its journal \
         away, and the drawer is free.",
    ),
    Code::new(
        "shelf-saved",
        "another program saved a file of the shelf at the same moment",
        "The file was read, and before the new one could take its place, a spreadsheet or an editor saved it. \
         What was saved stands, and nothing else was changed. Run the command again: it then starts from \
         what was saved.",
    ),
    Code::new(
        "shelf-restored",
        "a command was cut off, and the shelf has been put right",
        "The power went, or the command was stopped. What had not been entered in the journal yet was \
         taken back; what had been was finished. There is nothing to do.",
    ),
    Code::new(
        "shelf-unfinished",
        "a command was cut off, and a file was edited before it could be finished",
        "Its entry counts, but the files are not those of after it, nor those of before. `cardwright \
         shelf rebuild` writes the files of after it, and keeps what you edited in the journal, so \
         that you can take it from there.",
    ),
    Code::new(
        "shelf-vanished",
        "a file of the shelf is gone",
        "The journal knows that it was there. `cardwright shelf rebuild` writes it again as it was after \
         the last entry. If it was meant to go, make a file with nothing but the header.",
    ),
    Code::new(
        "shelf-entry",
        "the journal has no such entry",
        "`cardwright shelf history` lists the entries with their numbers.",
    ),
];
