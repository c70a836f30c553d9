//! Codes of the shelf and of settling.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "settle-origin",
        "a report folder does not say what was planned",
        "The file origin.json beside plan.json says which files list the paper, and keeps a copy of order, \
         stock and bench. Without it, or with one that does not belong to the plan, a batch cannot be \
         settled: plan the order again.",
    ),
    Code::new(
        "settle-path",
        "a report does not belong to the folder you are in",
        "The paths in origin.json start from the folder where the order was planned. From any other folder, \
         they could lead to another shelf, or to any file. Go to the folder of the workshop, or name the files \
         with --sheets, --offcuts, --envelopes and --sundries.",
    ),
    Code::new(
        "settle-changed",
        "something is not on the shelf as it was planned",
        "The files were edited since, or another batch was settled first. If the plan buys none of it, there \
         must be enough on hand. If it buys some, there must be exactly as much as when it was planned; \
         otherwise it is not clear whether you have already counted in what you bought. If you have, settle \
         with `--counted`.",
    ),
    Code::new(
        "settle-unfit",
        "a plan no longer fits the shelf",
        "The messages above it show each difference. Nothing was changed. If the cards are not cut yet, plan \
         the order again. If they are, count what you have, correct the files and settle again.",
    ),
    Code::new(
        "settle-limits",
        "the files would exceed their limits",
        "A file holds at most 200 columns, 16 MiB and 1 000 000 sheets of one name. Delete columns you do not \
         need, or split the stock over several names.",
    ),
    Code::new(
        "settle-open",
        "an order is planned again although a part of it is settled",
        "A part of an earlier plan was cut and settled, and the new plan covers all cards of the order. If you \
         want only the rest, reduce the counts in the order and plan again. To undo the part, use the earlier \
         report or `cardwright shelf rebuild`.",
    ),
    Code::new(
        "settle-twice",
        "a batch is settled already",
        "It is in the journal. `--undo` undoes it and leaves the files exactly as they were. To make the \
         order again, plan it again: that is a new plan.",
    ),
    Code::new(
        "settle-part",
        "a plan has no such part",
        "`--partly` names runs as the schedule does, each with the number of sheets cut: R1=12,R3=5. Leave out \
         what was settled before.",
    ),
    Code::new(
        "settle-undo",
        "a settled batch cannot be undone",
        "It was never settled, the files have changed since, or what it put in the drawer is set aside for \
         another batch. Undo the last change first, then the one before it; each leaves the files exactly as \
         they were. `cardwright shelf rebuild` undoes an edit by hand and keeps it in the journal.",
    ),
    Code::new(
        "settle-step",
        "the schedule has no such step, or is settled further already",
        "`settle REPORT --done 30` says that all steps up to 30 are cut; `--done 30:4` that four lifts of step 30 \
         are. Steps are numbered through the whole schedule, and counted from the first one each time: name the \
         last step that is done now. If you named too many before, take that back first, with `--undo`.",
    ),
    Code::new(
        "settle-mixed",
        "a batch is settled by steps and by runs",
        "`--done` follows the steps of the schedule, `--partly` counts whole sheets of its runs. After one of them \
         nobody can tell what the other would mean, so stay with the one you began with, or undo what is settled.",
    ),
    Code::new(
        "settle-steps",
        "a report does not say what its steps are",
        "A report notes which steps its schedule has, so that `--done` and `--spoiled` mean those on your printed \
         page. This one was made by another version of Cardwright, whose steps may be others. Settle by runs, with \
         `--partly`, or all of it without an option.",
    ),
    Code::new(
        "settle-spoiled",
        "what was spoiled is not there",
        "`--spoiled invitation.card=5` takes five finished pieces off the good ones, and `--spoiled B=2` two sheets \
         off the waiting stack B; of an envelope or a sundry, give its name and how much, in its unit. Only what is finished, or waits, at the step that you name can be spoiled, and \
         only as many as there are. The message lists what there is. Each name is given once, with its sum.",
    ),
    Code::new(
        "settle-hours",
        "the hours of a stage are given twice",
        "`--hours cut=2.5,fold=1` says how long cutting and folding took, in hours. Name each stage once, with the sum of its hours. \
         It stays in the journal, and the next plan tells by it what the rates of your bench could be.",
    ),
    Code::new(
        "settle-past",
        "a report does not fit the journal",
        "A report says how long the journal was when it was planned. If the journal is shorter now, the report \
         belongs to another shelf, or entries are missing. If another plan of the same order was settled since, \
         the cards are already made. To make them again, plan the order again. A report that makes the rest of a \
         batch fits only what was settled when it was planned.",
    ),
    Code::new(
        "settle-reserved",
        "paper is set aside for another plan of the batch",
        "`plan --reserve` sets paper aside for the plan that it makes. This plan is older, or its files were \
         changed since. Settle the plan that has the paper, plan again, or release the paper with \
         `cardwright shelf drop BATCH`.",
    ),
    Code::new(
        "take-name",
        "a stock-take counts something that is not in your files, or counts it twice",
        "Each row of the table of a stock-take names a sheet, an offcut, an envelope or a sundry as your files call it, \
         once. A strip that has no name yet is a row with a blank name: it gets one.",
    ),
    Code::new(
        "take-what",
        "the table of a stock-take says something unknown of a thing",
        "The column `what` is blank, `thrown away` or `not found`. A new strip is there, so it is blank beside one.",
    ),
    Code::new(
        "take-count",
        "something was thrown away or not found, and all of it is there",
        "`count` is how much is there now. Beside `thrown away` and `not found` it is less than your file says, and \
         blank means that nothing is left. To correct a count, leave `what` blank.",
    ),
    Code::new(
        "take-since",
        "your files have changed since the table of a stock-take was written",
        "`on file` is what your files said when `cardwright shelf count` wrote the table. They say something else now: \
         a batch was settled, or somebody edited them. What you counted then may be cut by now, so look again and \
         correct both numbers, or count by a new table. Without the column, this is not looked at.",
    ),
    Code::new(
        "take-other",
        "a stock-take would change what a thing is",
        "A stock-take changes how much there is of a name. Its paper, size, grain and print stay; the table shows them \
         so that you find it. If a strip was cut smaller, write `thrown away` beside its name, and the smaller one \
         in a row without a name. If the file is wrong, correct it there.",
    ),
    Code::new(
        "take-strip",
        "a strip that is new in the drawer is not described",
        "A row without a name is a strip that is in no file yet. It needs its paper, its width and height in the \
         directions of the sheet that it comes from, and how many there are; grain and print may be blank.",
    ),
    Code::new(
        "take-empty",
        "the table of a stock-take counts nothing",
        "Below the line of column names, it has a row for each name that you counted. Names that are not in it stay \
         as they are.",
    ),
    Code::new(
        "take-twice",
        "a stock-take is recorded already",
        "The same table is in the journal, and it put new strips in the drawer: recorded again, these would be there \
         twice. `cardwright shelf history` shows the entry, and `cardwright shelf rebuild --to` the entry before it \
         takes it back. For strips that you found later, write a table of their own.",
    ),
    Code::new(
        "take-reserved",
        "less is there than is set aside for a batch",
        "What is there counts, so it is recorded. The batch that it was set aside for can no longer be cut as planned: \
         plan it again, or release the rest with `cardwright shelf drop BATCH`.",
    ),
    Code::new(
        "take-plan",
        "a plan that is not cut yet no longer has its paper",
        "A stock-take found less than the plan takes, or another count of something that the plan also buys. Settling \
         it would be refused. Plan the order again; if part of it is cut, with `--rest`.",
    ),
    Code::new(
        "reserve-taken",
        "paper was taken while a batch was planned",
        "While this batch was planned, another one was settled or set paper aside. Nothing is set aside for \
         this one, and its plan may no longer fit. Plan again.",
    ),
    Code::new(
        "reserve-none",
        "no paper is set aside for a batch",
        "`cardwright plan ORDER --reserve` sets paper aside, and settling the batch uses it. `cardwright shelf` \
         shows which batches have some.",
    ),
    Code::new(
        "shelf-files",
        "the tables of the stock are not files of your own",
        "Sheets, offcuts, envelopes and sundries are tables, each in its own file. The journal shelf.jsonl, \
         the lock and files that are still being written cannot be any of them.",
    ),
    Code::new(
        "shelf-journal",
        "the journal of a shelf was changed or damaged",
        "shelf.jsonl has one line for every change to your stock, each with a fingerprint of the line before \
         it. A line was changed, or is missing. Restore the file from a copy. Or move it away: a new one starts \
         from the files as they are, and nothing settled before can be undone.",
    ),
    Code::new(
        "shelf-cut",
        "the journal of a shelf lacks its last entries",
        "Each change notes in .shelf.lock where the journal ends, and the journal now ends earlier: shelf.jsonl \
         is gone, was replaced by an older one, or lost its last lines. If you restored all files together, \
         carry on. If not, nothing is changed, because a batch could be settled twice: restore the journal from \
         a copy, or carry on from the entries left with `cardwright shelf rebuild`. If there are no entries and \
         no copy, remove .shelf.lock, and a new journal starts.",
    ),
    Code::new(
        "shelf-drawer",
        "a file belongs to another shelf",
        "A shelf is the sheets of a folder and one drawer, and a drawer belongs to one shelf. Two shelves \
         would overwrite each other's changes and set the same offcuts aside twice. The journal beside the \
         sheets names the drawer; beside a drawer in another folder, a hidden file such as .offcuts.csv.shelf \
         names the sheets. The first shelf that is changed gets the drawer. Give each shelf its own drawer, or \
         work on the one shelf with `--sheets`. If that shelf is no longer used, move its journal away, and the \
         drawer is free.",
    ),
    Code::new(
        "shelf-saved",
        "another program saved a file of the shelf at the same moment",
        "A spreadsheet or an editor saved the file before the new one could replace it. The file is as that \
         program saved it, and nothing else was changed. Run the command again: it starts from what was saved.",
    ),
    Code::new(
        "shelf-restored",
        "a command was interrupted, and the shelf is put right",
        "The power failed, or the command was stopped. A change that was not yet in the journal was undone; \
         one that was, is finished. There is nothing to do.",
    ),
    Code::new(
        "shelf-unfinished",
        "a command was interrupted, and a file was edited before it could finish",
        "Its entry counts, but the files are neither those before it nor those after it. `cardwright shelf \
         rebuild` finishes it and keeps your edit in the journal, where you can find it.",
    ),
    Code::new(
        "shelf-vanished",
        "a file of the shelf is gone",
        "The journal knows that it was there. `cardwright shelf rebuild` writes it again as it was after the \
         last entry. If you removed it on purpose, make a file with only the header.",
    ),
    Code::new(
        "shelf-entry",
        "the journal has no such entry",
        "`cardwright shelf history` lists the entries with their numbers.",
    ),
];
