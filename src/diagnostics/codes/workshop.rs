//! Codes of `workshop.toml`.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "workshop-size",
        "a format of your own is not a size",
        "Under [formats.cards], [formats.envelopes] and [formats.sheets], give each name of your own a size \
         in quotes: mini = \"3 x 4 in\". Width comes first.",
    ),
    Code::new(
        "workshop-format",
        "a format or a finish of your own has no usable name",
        "A name begins with a letter, so that it does not look like a size. It appears once, in small or \
         capital letters, and is none of the words of `cardwright sizes`: cards, envelopes, sheets, papers, \
         post. That of a finish has no + in it, since orders join finishes by it.",
    ),
    Code::new(
        "workshop-doubled",
        "there are two prices for the same letters",
        "Each class of letters has one price up to a weight. Delete one of the two.",
    ),
    Code::new(
        "workshop-weight",
        "a weight cannot be read",
        "Weights are in ounces or grams: \"1 oz\", \"3.5 oz\" or \"20 g\".",
    ),
    Code::new(
        "workshop-missing",
        "a section of workshop.toml lacks a key",
        "Each section [[post.prices]] has three keys: `class`, a class of the post's rules; `up_to`, the \
         heaviest weight at this price; and `price`.",
    ),
    Code::new(
        "workshop-large",
        "the workshop file is larger than 1 MiB",
        "All keys together take a few kilobytes. Check that it is the right file.",
    ),
    Code::new(
        "workshop-encoding",
        "the workshop file is not a text file in UTF-8",
        "workshop.toml is a TOML file: plain text, one key a line. Without the file, every key has its \
         default.",
    ),
    Code::new(
        "workshop-syntax",
        "the workshop file is not TOML",
        "A line is `key = value`, a section begins with its name in brackets, and text is in double quotes. A \
         length with a unit is text: knife = \"15 in\". A key appears only once. The values are checked when \
         the lines are correct.",
    ),
    Code::new(
        "workshop-key",
        "the workshop file has an unknown key",
        "If a key were misspelled, its default would apply without a word, so this is an error. Correct the \
         name, or start the line with #.",
    ),
    Code::new(
        "workshop-type",
        "a value is of the wrong kind",
        "Words, and lengths with a unit, are text in double quotes; counts and percentages are plain numbers; \
         a section begins with its name in brackets.",
    ),
    Code::new(
        "workshop-length",
        "a length cannot be read or is out of range",
        "A length is a plain number in the workshop's unit, or text such as \"1/16 in\" or \"1.5 mm\". The \
         knife and the graduation are above zero.",
    ),
    Code::new(
        "workshop-number",
        "a number is not whole or out of range",
        "Counts, percentages and seconds are whole numbers. A lift is at least 1 sheet. A margin is below 100 \
         percent, because it is a part of the price.",
    ),
    Code::new(
        "workshop-money",
        "an amount of money cannot be read",
        "Write a number in the workshop's currency, such as 18.00, with no more decimals than that currency \
         has.",
    ),
    Code::new(
        "workshop-word",
        "a word is none of those allowed here",
        "The key takes one of a few words, listed in the message. A currency is the three capital letters of \
         ISO 4217, such as USD.",
    ),
    Code::new(
        "workshop-squaring",
        "the squaring is less than the blade",
        "Squaring is what the first cuts take off a rough edge of a sheet. Each cut takes off at least the \
         width of the blade. 0 means that sheets are not squared.",
    ),
    Code::new(
        "workshop-keep",
        "the keep rule's short side is longer than its long side",
        "An offcut goes back in the drawer if its shorter side is at least `short` and its longer side at \
         least `long`. Swap the two, or correct the wrong one.",
    ),
];
