//! Pans as objects, good and bad.

use super::*;

#[track_caller]
fn faults(json: &str) -> Vec<(Code, String)> {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let written: PansWritten = serde_json::from_str(json).unwrap_or_else(|fault| panic!("{json}: {fault}"));
    let resolved = written.resolve(Measures::Us, reference, &Pointer::ROOT.key("to"), &mut Account::new(reference, false));
    match resolved {
        Ok(pans) => panic!("{json} is taken as {}", pans.text()),
        Err(faults) => faults.iter().map(|fault| (fault.code, fault.pointer.clone())).collect(),
    }
}

#[track_caller]
fn refused(json: &str, code: Code, pointer: &str) {
    assert_eq!(faults(json), [(code, pointer.to_owned())], "{json}");
}

#[test]
fn every_fault_is_told_at_its_place() {
    refused("{}", Code::ExactlyOne, "/to");
    refused("{\"round\":{\"diameter\":\"9 in\"},\"square\":{\"side\":\"9 in\"}}", Code::ExactlyOne, "/to");
    refused("{\"round\":{}}", Code::DimensionNeeded, "/to/round/diameter");
    refused("{\"round\":{\"diameter\":\"9\"}}", Code::UnitMissing, "/to/round/diameter");
    refused("{\"round\":{\"diameter\":\"9 cups\"}}", Code::WrongUnit, "/to/round/diameter");
    refused("{\"round\":{\"diameter\":\"9 blobs\"}}", Code::UnknownUnit, "/to/round/diameter");
    refused("{\"round\":{\"diameter\":\"0 in\"}}", Code::ImpossiblePan, "/to/round/diameter");
    refused("{\"round\":{\"diameter\":\"-9 in\"}}", Code::ImpossiblePan, "/to/round/diameter");
    refused("{\"round\":{\"diameter\":\"11 m\"}}", Code::OutOfRange, "/to/round/diameter");
    refused("{\"round\":{\"diameter\":\"9-10 in\"}}", Code::UnreadableAmount, "/to/round/diameter");
    refused("{\"round\":{\"diameter\":\"9 in\"},\"count\":0}", Code::OutOfRange, "/to/count");
    refused(
        "{\"tube\":{\"diameter\":\"9 in\",\"depth\":\"3 in\",\"core_diameter\":\"9 in\"}}",
        Code::ImpossiblePan,
        "/to/tube/core_diameter",
    );
    refused("{\"muffin-tray\":{\"wells\":0,\"diameter\":\"7 cm\"}}", Code::OutOfRange, "/to/muffin-tray/wells");
    refused("{\"measured\":{\"capacity\":\"0 ml\"}}", Code::ImpossiblePan, "/to/measured/capacity");
    refused("[]", Code::MissingField, "/to");
}

#[test]
fn all_faults_are_told_at_once() {
    let told = faults("[{\"round\":{\"diameter\":\"9\",\"depth\":\"2 cups\"}},\"9 inch rond\"]");
    let places: Vec<_> = told.iter().map(|(_, pointer)| pointer.as_str()).collect();
    assert_eq!(places, ["/to/0/round/diameter", "/to/0/round/depth", "/to/1"]);
}
