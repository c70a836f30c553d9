//! Ways to break totals and proofs.

use super::*;

mutations! {
    "another spend": |made| { made.plan.totals.spend += CENT; true }
        => Fault::Total { field: "spend", .. },
    "another stock": |made| { made.plan.totals.stock += CENT; true }
        => Fault::Total { field: "stock", .. },
    "another worth of offcuts": |made| { made.plan.totals.kept += CENT; true }
        => Fault::Total { field: "kept", .. },
    "another number of sheets": |made| { made.plan.totals.sheets_used += 1; true }
        => Fault::Total { field: "sheets_used", .. },
    "another number of runs": |made| { made.plan.totals.runs += 1; true }
        => Fault::Total { field: "runs", .. },
    "another area of sheets": |made| { made.plan.totals.sheet_area += SPECK; true }
        => Fault::Total { field: "sheet_area", .. },
    "another area of pieces": |made| { made.plan.totals.piece_area += SPECK; true }
        => Fault::Total { field: "piece_area", .. },
    "another area of offcuts": |made| { made.plan.totals.offcut_area += SPECK; true }
        => Fault::Total { field: "offcut_area", .. },
    "another area of waste": |made| { made.plan.totals.waste_area += SPECK; true }
        => Fault::Total { field: "waste_area", .. },
    "another area of blade": |made| { made.plan.totals.blade_area += SPECK; true }
        => Fault::Total { field: "blade_area", .. },
    "areas out of balance": |made| { made.plan.totals.waste_area += SPECK; true }
        => Fault::Balance { .. },
    "a gauge that is never set": |made| {
        made.plan.totals.gauge_settings = 0;
        node(made, is_cut, |_| ())
    } => Fault::GaugeSettings { .. },

    "a missing proof": |made| made.plan.proof.pop().is_some() => Fault::Groups { .. },
    "a proof of other papers": |made| match made.plan.proof.first_mut() {
        Some(proof) => { proof.papers.push("zebra".to_owned()); true }
        None => false,
    } => Fault::Groups { .. },
    "another value of the spend": |made| level(made, |spend, _| spend.value += CENT)
        => Fault::LevelValue { level: "spend", .. },
    "another value of the stock": |made| level(made, |_, stock| stock.value = Worth::from_units(stock.value.units() + 1))
        => Fault::LevelValue { level: "stock", .. },
    "a bound above the value": |made| level(made, |spend, _| spend.bound = spend.value + CENT)
        => Fault::BoundBeyondValue { .. },
    "a bound below nothing": |made| level(made, |_, stock| stock.bound = Worth::from_units(-1))
        => Fault::BoundBeyondValue { .. },
    "a status made better": |made| level(made, |_, stock| stock.status = Status::Optimal)
        => Fault::Status { level: "stock", .. },
    "a status made worse": |made| level(made, |spend, _| {
        (spend.bound, spend.status) = (spend.value, Status::Gap);
    }) => Fault::Status { level: "spend", .. },
    "a scale of nothing": |made| level(made, |spend, _| spend.certificate.scale = 0)
        => Fault::CertificateNumber { .. },
    "a budget at the first level": |made| level(made, |spend, _| {
        spend.certificate.budget_value = Some(0);
    }) => Fault::CertificateNumber { level: "spend", .. },
    "no budget at the second level": |made| level(made, |_, stock| {
        stock.certificate.budget_value = None;
    }) => Fault::CertificateNumber { level: "stock", .. },
    "a negative sheet value": |made| level(made, |spend, _| {
        spend.certificate.sheet_values.insert("fern-full".to_owned(), -1);
    }) => Fault::CertificateNumber { .. },
    "a piece value of nobody": |made| level(made, |spend, _| {
        spend.certificate.piece_values.insert("nobody".to_owned(), 1);
    }) => Fault::CertificateUnknown { .. },
    "a sheet value of nobody": |made| level(made, |_, stock| {
        stock.certificate.sheet_values.insert("nobody".to_owned(), 1);
    }) => Fault::CertificateUnknown { .. },
}
