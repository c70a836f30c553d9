//! Codes of `workshop.toml`.

use super::Code;

pub(super) const CODES: &[Code] = &[
    Code::new(
        "workshop-size",
        "a format of the workshop's own is not a size",
        "Under [formats.cards], [formats.envelopes] and [formats.sheets] stand names of your own, each \
         with a size in quotes: mini = \"3 x 4 in\". Width comes first.",
    ),
    Code::new(
        "workshop-format",
        "a format of the workshop's own has no usable name",
        "A name begins with a letter, so that it cannot be taken for a size, stands there once, whatever the \
         case, and is none of the words of `cardwright sizes`: cards, envelopes, sheets, papers, post.",
    ),
    Code::new(
        "workshop-doubled",
        "two prices stand for the same letters",
        "Each class of letters has one price up to a weight. Delete one of the two.",
    ),
    Code::new(
        "workshop-weight",
        "a weight cannot be read",
        "Weights are in ounces or grams: \"1 oz\", \"3.5 oz\" or \"20 g\".",
    ),
    Code::new(
        "workshop-missing",
        "a section of the workshop lacks a key",
        "Each section [[post.prices]] says a class of the post's rules, the weight up to which its price \
         holds, and the price: class, up_to and price.",
    ),
    Code::new(
        "workshop-large",
        "the workshop file is larger than 1 MiB",
        "That is hundreds of times more than all keys take. Look whether it is the file you meant.",
    ),
    Code::new(
        "workshop-encoding",
        "the workshop file is not a text file in UTF-8",
        "workshop.toml is a TOML file: plain text with a line a key. Without the file, every key has \
         its default.",
    ),
    Code::new(
        "workshop-syntax",
        "the workshop file is not TOML",
        "A line is `key = value`, a section begins with its name in brackets, and text stands in \
         double quotes. A length with a unit is text: knife = \"15 in\". A key may stand only once. \
         Values are read when the file is free of such slips.",
    ),
    Code::new(
        "workshop-key",
        "the workshop file has a key that means nothing here",
        "A slip in a key would leave its default in force without a word, so it is an error. Mend \
         the name, or begin the line with #.",
    ),
    Code::new(
        "workshop-type",
        "a value is of the wrong kind",
        "Words and lengths with a unit are text in double quotes, counts and percentages are bare \
         numbers, and sections are tables.",
    ),
    Code::new(
        "workshop-length",
        "a length cannot be read or is out of range",
        "Lengths are bare numbers in the workshop's unit, or text such as \"1/16 in\" or \"1.5 mm\". \
         The knife and the graduation are above zero.",
    ),
    Code::new(
        "workshop-number",
        "a number is not whole or out of range",
        "Counts, percentages and seconds are whole numbers. A lift is at least 1 sheet, a margin is \
         below 100 percent because it is a part of the price.",
    ),
    Code::new(
        "workshop-money",
        "an amount of money cannot be read",
        "Write a number in the workshop's currency, such as 18.00, no finer than its smallest coin.",
    ),
    Code::new(
        "workshop-word",
        "a word that is none of those possible here",
        "The key takes one of a few words, which the message lists; a currency is three capital \
         letters of ISO 4217, such as USD.",
    ),
    Code::new(
        "workshop-squaring",
        "the squaring is less than the blade",
        "Squaring is what the first cuts take off each edge of a full sheet. A blade takes its own \
         width off, so less than that is not possible; 0 means that sheets are not squared.",
    ),
    Code::new(
        "workshop-lift",
        "the lift is given twice",
        "Either `lift` says how many sheets are cut in one stroke, or `lift_thickness` how thick they \
         may be together. Delete one of them.",
    ),
    Code::new(
        "workshop-keep",
        "the keep rule's short side is longer than its long side",
        "An offcut goes back in the drawer when its shorter side is at least `short` and its longer \
         side at least `long`. Exchange the two, or mend the one that is wrong.",
    ),
];
