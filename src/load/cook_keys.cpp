// SPDX-License-Identifier: MIT
// The keys of the cook and of the roll test.
#include "load/assembly.h"
#include "load/cook_reader.h"
#include "load/key_rows.h"
#include "load/key_words.h"

namespace evenspit::key_rows {
namespace {

KeyTable cook_table() {
    using enum Dimension;
    const CookFire usual;
    return {
        .path = "cook",
        .about = "The cook",
        .keys = {
            quantity(
                "cooker_temperature", temperature, Range::any, R"("300 degF")",
                "What the cooker's thermometer is to show; a cook needs it, unless the fire is in the open"),
            usually(refrigerator_k, quantity("start_temperature", temperature, Range::any, R"("40 degF")",
                                             "The meat as it goes on")),
            plain("pull", KeyForm::table, R"({ breast = "162 degF", thigh = "172 degF" })",
                  "When it comes off, by place"),
            plain("serve", KeyForm::time_of_day, R"("18:30")", "When it is to be on the table"),
            in_words("until the pull temperatures", quantity("duration", Dimension::time, Range::positive,
                                                             R"("3 h")", "How long it is cooked")),
            usually(word_for(fuel_words(), usual.fuel),
                    word("fuel", names_of(fuel_words()), R"("briquettes")", "What burns")),
            in_words("enough", quantity("fuel_mass", mass, Range::positive, R"("3 kg")", "How much is laid")),
            usually(word_for(coal_words(), usual.coals),
                    word("coals", names_of(coal_words()), R"("both sides")",
                         "Where they are banked; with the motor on the left")),
            in_words("cooker_temperature", quantity("preheat", temperature, Range::any, R"("350 degF")",
                                                    "How hot the cooker is before the meat goes in")),
            usually(word_for(vents_words(), usual.vents_left),
                    word("vents", names_of(vents_words()), R"("left")",
                         "Whether you hold the heat with them, or leave them as they are")),
            usually(usual.weather_k,
                    quantity("weather", temperature, Range::any, R"("10 degC")", "The air outside")),
            plain("baste", KeyForm::table, R"({ every = "20 min", open = "30 s" })",
                  "When the lid is opened to baste; without it never"),
            in_words("computed",
                     quantity("convection_coefficient", heat_transfer_coefficient, Range::positive,
                              R"x("25 W/(m2 K)")x", "How well the air heats the skin")),
            usually(Cook{}.radiation,
                    flag("radiation", "false", "Whether the fire shines on it, beside the hot air")),
        }};
}

KeyTable pull_table() {
    return {.path = "cook.pull",
            .about = "How hot a place is when it comes off: breast, thigh, wing, core, stuffing, a probe",
            .any_other = {quantity("PLACE", Dimension::temperature, Range::any, R"("162 degF")",
                                   "By the thermometer in that place")}};
}

KeyTable baste_table() {
    using enum Dimension;
    return {.path = "cook.baste",
            .about = "When the lid is opened to baste",
            .keys = {needed(quantity("every", Dimension::time, Range::positive, R"("20 min")",
                                     "From one opening to the next")),
                     in_words("from half way", quantity("from", Dimension::time, Range::not_negative,
                                                        R"("1 h")", "When it begins")),
                     usually(CookBasting{}.open_s, quantity("open", Dimension::time, Range::positive,
                                                            R"("30 s")", "How long it stays open"))}};
}

KeyTable roll_test_table() {
    using enum Dimension;
    const RollTest usual;
    LoadKey down = needed(quantity("down", angle, Range::any, R"("210 deg")",
                                   "What was at the bottom at rest; none: it stayed anywhere"));
    down.words = {"none"};
    return {
        .path = "roll_test",
        .about = "The load rolled on two rails, one section each time",
        .is_list = true,
        .keys = {std::move(down),
                 usually(word_for(rolls_on_words(), usual.on),
                         word("on", names_of(rolls_on_words()), R"("journals")", "What it rolled on")),
                 quantity("weight", mass, Range::positive, R"("300 g")",
                          "What was hung on until it stayed anywhere; next two with it"),
                 quantity("radius", length, Range::positive, R"("70 mm")", "So far from the rod's middle"),
                 quantity("clock", angle, Range::any, R"("30 deg")", "There round the rod"),
                 in_words("all", plain("counterweights", KeyForm::counts, "[1]",
                                       "The counterweights that were on, by number")),
                 usually(usual.read_rad, quantity("read", angle, Range::not_negative, R"("5 deg")",
                                                  "How well the clock was read")),
                 plain("as_rolled", KeyForm::marks, R"(["9ae4c0f1"])",
                       "Written by roll -o: what was on the rod; leave it alone")}};
}

}  // namespace

std::vector<KeyTable> cook_tables() {
    return {cook_table(), pull_table(), baste_table(), roll_test_table()};
}

}  // namespace evenspit::key_rows
