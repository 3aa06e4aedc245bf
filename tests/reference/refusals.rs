//! The rows of `unit-checks.csv` that expect a refusal, with the code of ours; and those that were
//! decided otherwise, with the reason.

use crate::support::cells;
use crate::units::exact::records;

/// What is typed for a row, and the code of what is said.
const REFUSED: [(&str, &str, &str); 27] = [
    ("U253", "a = 100 psig\nb [psia] = a", "reference"),
    ("U254", "a = 100 psi\nb [psia] = a", "reference"),
    ("U256", "a = 100 cfm_fad\nb [acfm] = a", "reference"),
    ("U257", "a = 10 Nm3/h\nb [scfm] = a", "reference"),
    ("U258", "a = 1 lb\nb [lbf] = a", "dimension"),
    ("U259", "a = 1 kg\nb [N] = a", "dimension"),
    ("U260", "a = 1 oz\nb [floz] = a", "dimension"),
    ("U261", "a = 1 kg/cm2\nb [psi] = a", "dimension"),
    ("U262", "a = 1 cP\nb [cSt] = a", "dimension"),
    ("U263", "a = 1 N m torque\nb [J] = a", "dimension"),
    ("U264", "a = 1 kVA\nb [kW] = a", "reference"),
    ("U265", "a = 1 kvar\nb [kW] = a", "reference"),
    ("U266", "a = 60 rpm\nb [Hz] = a", "dimension"),
    ("U267", "a = 20 degC + 20 degC", "point"),
    ("U268", "a = 20 degC * 2", "point"),
    ("U269", "a = 5 delta_degC\nb [degC] = a", "reference"),
    ("U270", "a = 90 dBA + 90 dBA", "level"),
    ("U271", "a = 1 USD\nb [EUR] = a", "currency"),
    ("U272", "a = 1 ton\nb [kg] = a", "ambiguous-unit"),
    ("U273", "a = 1 oz\nb [N] = a", "dimension"),
    ("U274", "a = 80 mesh\nb [um] = a", "ambiguous-unit"),
    ("U275", "a = 1 kkg\nb [g] = a", "unknown-unit"),
    ("U276", "a = 1 kin\nb [in] = a", "unknown-unit"),
    ("U277", "a = 1 cfm\nb [m] = a", "dimension"),
    ("U278", "a = 5 %\nb [pp] = a", "reference"),
    ("U279", "a = 1 C\nb [K] = a", "dimension"),
    ("U280", "a = 1 Nm\nb [nm] = a", "dimension"),
];

/// Rows that the language answers otherwise. U253 and U257 ask for a refusal because no barometer
/// and no state is declared: the language has defaults and says which it took, and refuses these
/// two for another reason, that nothing converts silently.
const OTHERWISE: [(&str, &str, &str); 1] = [(
    "U255",
    "a = 100 scfm\nb [cfm] = a",
    "a flow unit without a suffix tells nothing: it keeps what is there and shows it",
)];

#[test]
fn every_row_that_is_to_be_refused_is_refused() {
    let rows = records("unit-checks.csv");
    let wanted: Vec<&str> = rows
        .iter()
        .filter(|row| &row[1] == "error")
        .map(|row| &row[0])
        .collect();
    let here = REFUSED
        .iter()
        .map(|(id, ..)| *id)
        .chain(OTHERWISE.iter().map(|(id, ..)| *id));
    let mut here: Vec<&str> = here.collect();
    here.sort_unstable();
    assert_eq!(here, wanted);
    for (id, lines, code) in REFUSED {
        let shop = cells(lines);
        assert!(shop.has_error(), "{id}: {lines}");
        assert_eq!(shop.codes(), [code], "{id}: {lines}\n{}", shop.messages());
    }
}

#[test]
fn rows_decided_otherwise_have_their_value() {
    let [(_, lines, _)] = OTHERWISE;
    let shop = cells(lines);
    assert_eq!(shop.codes(), [""; 0]);
    assert_eq!(shop.value("b"), "100 scfm");
}
