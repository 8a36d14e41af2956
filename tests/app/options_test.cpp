// SPDX-License-Identifier: MIT
#include "app/cli/options.h"

#include <sstream>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/cli/scan.h"
#include "app/cli/shape.h"
#include "app/cli/verbs.h"
#include "app/cli/view.h"
#include "app/command_line.h"
#include "report/tool.h"
#include "scan/scan_settings.h"

namespace evenspit {
namespace {

using test::complaint;
using test::words_of;

using testing::ElementsAre;
using testing::HasSubstr;

Request request(const std::vector<std::string>& words) {
    return std::get<Request>(parse_command_line(words));
}

std::string answer(const std::vector<std::string>& words) {
    return std::get<Answer>(parse_command_line(words)).text;
}

TEST(CommandLine, CheckWithItsDefaults) {
    const Request r = request({"check", "goose.toml"});
    EXPECT_EQ(r.verb, "check");
    EXPECT_THAT(r.inputs, ElementsAre("goose.toml"));
    EXPECT_EQ(r.format, Format::text);
    EXPECT_EQ(r.units, UnitSystem::metric);
    EXPECT_FALSE(r.quiet);
    EXPECT_FALSE(r.output);
}

TEST(CommandLine, ShapeTakesTheKeysOfAnItem) {
    const Request r = request({"shape", "--missing", "left wing,right wing", "turkey", "--mass", "13 lb",
                               "--trussing=legs tied", "--missing", "left leg", "-o", "t.ply"});
    EXPECT_EQ(r.verb, "shape");
    EXPECT_EQ(r.output, "t.ply");
    EXPECT_FALSE(r.text_to_output);
    Words words = words_of({{"NAME", "turkey"},
                            {"--mass", "13 lb"},
                            {"--trussing", "legs tied"},
                            {"--missing", "left wing"},
                            {"--missing", "left leg"},
                            {"--stuffing-density", "700 kg/m3"},
                            {"--leg-splay", "12 cm"}});
    using testing::Pair;
    const ShapeWords shape = shape_words(words);
    EXPECT_THAT(shape.texts, ElementsAre(Pair("mass", "13 lb"), Pair("shape", "turkey"),
                                         Pair("stuffing_density", "700 kg/m3"),
                                         Pair("tape.leg_splay", "12 cm"), Pair("trussing", "legs tied")));
    EXPECT_THAT(shape.missing, ElementsAre("left wing", "left leg"));
}

TEST(CommandLine, ShapeNeedsANameAndAWeight) {
    EXPECT_THAT(complaint({"shape"}),
                testing::AllOf(HasSubstr("shape needs the name of a body: turkey, chicken, "),
                               HasSubstr("leg of lamb")));
    EXPECT_EQ(complaint({"shape", "turkey"}), "shape needs a weight: --mass \"13 lb\"");
    EXPECT_THAT(complaint({"shape", "turkey", "--mass"}), HasSubstr("--mass"));
    EXPECT_EQ(complaint({"shape", "turkey", "--mass", "13 lb", "--gith", "3 m"}),
              "unknown option '--gith' for shape; did you mean '--girth'?");
    EXPECT_EQ(complaint({"shape", "leg", "of", "lamb", "--mass", "2 kg"}),
              "'of' is one argument too many for shape");
}

TEST(CommandLine, OptionsStandBeforeOrBehindTheFile) {
    for (const auto& words :
         {std::vector<std::string>{"check", "--quiet", "--units", "us", "-o", "out.txt", "goose.toml"},
          {"check", "goose.toml", "--units=us", "--output=out.txt", "--quiet"}}) {
        const Request r = request(words);
        EXPECT_THAT(r.inputs, ElementsAre("goose.toml"));
        EXPECT_EQ(r.units, UnitSystem::us);
        EXPECT_EQ(r.output, "out.txt");
        EXPECT_TRUE(r.quiet);
    }
}

TEST(CommandLine, FormatsAreFlags) {
    EXPECT_EQ(request({"check", "a.toml", "--json"}).format, Format::json);
    EXPECT_EQ(request({"check", "a.toml", "--csv"}).format, Format::csv);
    EXPECT_EQ(request({"models", "--json"}).format, Format::json);
    EXPECT_EQ(request({"models"}).verb, "models");
}

TEST(CommandLine, PlanWritesALoad) {
    const Request r = request({"plan", "a.toml", "-o", "b.toml", "--pick", "3"});
    EXPECT_EQ(r.verb, "plan");
    EXPECT_THAT(r.inputs, ElementsAre("a.toml"));
    EXPECT_EQ(r.output, "b.toml");
    EXPECT_FALSE(r.text_to_output);
    EXPECT_FALSE(request({"plan", "a.toml"}).output);
    EXPECT_EQ(complaint({"plan", "a.toml", "--pick", "1"}), "--pick says what --output writes; add -o FILE");
    EXPECT_THAT(complaint({"plan", "a.toml", "-o", "b.toml", "--pick", "-1"}),
                HasSubstr("--pick: found '-1'; expected the number of an answer, 0 or more"));
    EXPECT_THAT(complaint({"plan", "a.toml", "-o", "b.toml", "--pick", "2nd"}), HasSubstr("found '2nd'"));
    EXPECT_EQ(complaint({"plan"}), "plan needs a load file: plan LOAD.toml");
}

TEST(CommandLine, CompareTakesSeveralLoadsOrASweep) {
    const Request r = request({"compare", "a.toml", "b.toml", "c.toml", "--csv"});
    EXPECT_EQ(r.verb, "compare");
    EXPECT_THAT(r.inputs, ElementsAre("a.toml", "b.toml", "c.toml"));
    EXPECT_EQ(r.format, Format::csv);
    EXPECT_THAT(request({"compare", "a.toml", "--sweep", "x=1:2:1"}).inputs, ElementsAre("a.toml"));
    EXPECT_EQ(complaint({"compare"}), "compare needs load files: compare A.toml B.toml");
    EXPECT_EQ(complaint({"compare", "a.toml"}),
              "compare needs a second load file, or --sweep KEY=FROM:TO:STEP");
    EXPECT_EQ(complaint({"compare", "a.toml", "b.toml", "--sweep", "x=1:2:1"}),
              "--sweep takes one load file");
}

TEST(CommandLine, FitTakesALoad) {
    EXPECT_EQ(request({"fit", "a.toml", "--units", "us"}).verb, "fit");
    EXPECT_EQ(complaint({"fit"}), "fit needs a load file: fit LOAD.toml");
}

TEST(CommandLine, ANameThatLooksLikeAnOptionStandsBehindTwoDashes) {
    EXPECT_THAT(request({"check", "--", "--json"}).inputs, ElementsAre("--json"));
}

TEST(CommandLine, HelpAndVersion) {
    EXPECT_EQ(answer({"--version"}), "evenspit " + std::string(tool_version()) + "\n");
    EXPECT_EQ(answer({"--help"}), help_text());
    EXPECT_EQ(answer({"-h"}), help_text());
    EXPECT_THAT(help_text(), HasSubstr("Usage: evenspit VERB [OPTIONS]"));
    for (const char* what :
         {"check", "plan", "compare", "fit", "models", "Exit status", "NO_COLOR", "EVENSPIT_MODELS"}) {
        EXPECT_THAT(help_text(), HasSubstr(what));
    }
    const std::string check = answer({"check", "--help"});
    EXPECT_THAT(check, HasSubstr("Usage: evenspit check LOAD [OPTIONS]"));
    for (const char* option : {"--json", "--csv", "--units", "--quiet", "--output", "metric or us"}) {
        EXPECT_THAT(check, HasSubstr(option));
    }
    EXPECT_THAT(answer({"models", "-h"}), HasSubstr("Usage: evenspit models [OPTIONS]"));
}

TEST(CommandLine, HelpFitsATerminal) {
    std::vector<std::string> texts{help_text()};
    for (const Verb& verb : all_verbs()) texts.push_back(answer({verb.name, "--help"}));
    for (const std::string& text : texts) {
        std::istringstream lines(text);
        for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 80u) << line;
    }
}

TEST(CommandLine, TheHelpTellsOfEveryVerbAndWord) {
    for (const Verb& verb : all_verbs()) {
        EXPECT_THAT(help_text(), HasSubstr("  " + verb.name + " "));
        EXPECT_THAT(help_text(), HasSubstr(verb.summary));
        const std::string help = answer({verb.name, "--help"});
        for (const WordSpec& word : verb.words) {
            EXPECT_THAT(help, HasSubstr(word.key())) << verb.name;
            EXPECT_THAT(help, HasSubstr(word.about)) << verb.name;
        }
        EXPECT_EQ(help.find("Exit status") != std::string::npos, verb.tells_status) << verb.name;
    }
}

std::string verb_list() {
    std::string list;
    for (const Verb& verb : all_verbs()) list += (list.empty() ? "" : ", ") + verb.name;
    return list;
}

TEST(CommandLine, WhatCannotBeUnderstoodIsNamed) {
    EXPECT_EQ(complaint({}), "a verb is missing: " + verb_list());
    EXPECT_EQ(complaint({"chek", "a.toml"}), "unknown verb 'chek'; did you mean 'check'?");
    EXPECT_EQ(complaint({"modles"}), "unknown verb 'modles'; did you mean 'models'?");
    EXPECT_EQ(complaint({"frobnicate"}), "unknown verb 'frobnicate'; known are " + verb_list());
    EXPECT_EQ(complaint({"goose.toml"}), "unknown verb 'goose.toml'; known are " + verb_list());
    EXPECT_EQ(complaint({"--versoin"}), "unknown option '--versoin'; did you mean '--version'?");
    EXPECT_EQ(complaint({"--json", "check"}),
              "'--json' cannot stand before the verb; options stand behind it");
    EXPECT_EQ(complaint({"check", "a.toml", "--jsno"}),
              "unknown option '--jsno' for check; did you mean '--json'?");
    EXPECT_EQ(complaint({"check", "--unit=us", "a.toml"}),
              "unknown option '--unit' for check; did you mean '--units'?");
    EXPECT_EQ(complaint({"check", "a.toml", "-x"}), "unknown option '-x' for check");
    EXPECT_EQ(complaint({"models", "--csv"}), "unknown option '--csv' for models");
}

TEST(CommandLine, FilesAreCounted) {
    EXPECT_EQ(complaint({"check"}), "check needs a load file: check LOAD.toml");
    EXPECT_EQ(complaint({"check", ""}), "check needs a load file: check LOAD.toml");
    EXPECT_EQ(complaint({"check", "a.toml", "--mountings", "3", "--mountings", "4"}),
              "--mountings is given 2 times; give it once");
    EXPECT_EQ(complaint({"check", "a.toml", "--units"}), "--units needs a value: --units SYSTEM");
    EXPECT_EQ(complaint({"check", "--mountings", "--json", "a.toml"}),
              "--mountings needs a value: --mountings N");
    EXPECT_EQ(complaint({"plan", "a.toml", "-o"}), "-o needs a value: -o FILE");
    EXPECT_EQ(complaint({"check", "a.toml", "b.toml"}), "'b.toml' is one argument too many for check");
    EXPECT_EQ(complaint({"models", "rods"}), "'rods' is one argument too many for models");
}

TEST(CommandLine, ViewIsAWindowOrAPicture) {
    EXPECT_EQ(request({"view"}).verb, "view");
    EXPECT_THAT(request({"view"}).inputs, testing::IsEmpty());
    EXPECT_FALSE(request({"view", "a.toml"}).output);
    const Request drawn =
        request({"view", "a.toml", "--snapshot", "a.png", "--size", "1920x1200", "--scale", "1.5", "--angle",
                 "90 deg", "--from", "drive", "--panel", "figures", "--inside", "--colours"});
    EXPECT_THAT(drawn.inputs, ElementsAre("a.toml"));
    EXPECT_EQ(drawn.output, "a.png");
    EXPECT_EQ(drawn.output_option, "--snapshot");
    Words words = words_of({{"--size", "1920x1200"},
                            {"--scale", "1.5"},
                            {"--angle", "90 deg"},
                            {"--from", "drive"},
                            {"--panel", "figures"}});
    words.add_flag("--inside");
    const PictureRequest picture = picture_request(words);
    EXPECT_EQ(picture.width, 1920);
    EXPECT_EQ(picture.height, 1200);
    EXPECT_EQ(picture.scale, 1.5);
    EXPECT_NEAR(picture.angle_rad, 1.5707963267948966, 1e-15);
    EXPECT_EQ(picture.from, "drive");
    EXPECT_EQ(picture.panel, "figures");
    EXPECT_TRUE(picture.inside);
    const PictureRequest plain = picture_request({});
    EXPECT_EQ(plain.width, 1280);
    EXPECT_EQ(plain.from, "home");
    EXPECT_FALSE(plain.inside);
}

TEST(CommandLine, WhatAPictureCannotBeIsNamed) {
    const auto bad = [](const std::string& option, const std::string& value) {
        return complaint({"view", "a.toml", "--snapshot", "a.png", option, value});
    };
    EXPECT_EQ(complaint({"view", "--snapshot", "a.png"}),
              "view --snapshot needs a load file: view LOAD.toml --snapshot OUT.png");
    EXPECT_EQ(complaint({"view", "a.toml", "--snapshot", ""}), "--snapshot needs the name of a file");
    EXPECT_EQ(complaint({"view", "a.toml", "--scan-unit", "cm"}),
              "--scan-unit is the unit of a scan: view SCAN.obj --scan-unit cm");
    EXPECT_THAT(complaint({"view", "a.obj", "--scan-unit", "elbows"}), HasSubstr("elbows"));
    for (const char* size :
         {"1280", "1280x", "x720", "1280x720x3", "1280X720", "10x10", "99999x720", "-5x720"}) {
        const std::string said = bad("--size", size);
        EXPECT_THAT(said, HasSubstr(std::string(size)));
        EXPECT_THAT(said, HasSubstr("expected width and height in pixels, 320 to 8192, like 1280x720"));
    }
    EXPECT_THAT(bad("--scale", "9"), HasSubstr("a factor from 0.5 to 4"));
    EXPECT_THAT(bad("--scale", "2x"), HasSubstr("found '2x'"));
    EXPECT_THAT(bad("--angle", "90"), HasSubstr("--angle: found"));
    EXPECT_EQ(bad("--from", "frnt"),
              "--from: found 'frnt'; expected one of home, front, back, drive, point, above, below; did you "
              "mean 'front'?");
    EXPECT_THAT(bad("--panel", "numbers"), HasSubstr("findings, places, figures, plan"));
}

TEST(CommandLine, Scan) {
    const Request r = request({"scan", "a.ply", "b.ply", "-o", "body.ply", "--scan-unit", "mm", "--mass",
                               "13 lb", "--frame", "file", "--axis", "0,-1,0", "--up=0,0,2.5"});
    EXPECT_EQ(r.verb, "scan");
    EXPECT_THAT(r.inputs, ElementsAre("a.ply", "b.ply"));
    EXPECT_EQ(r.output, "body.ply");
    const ScanRequest scan = scan_request(words_of({{"--scan-unit", "mm"},
                                                    {"--mass", "13 lb"},
                                                    {"--frame", "file"},
                                                    {"--axis", "0,-1,0"},
                                                    {"--up", "0,0,2.5"}}));
    EXPECT_DOUBLE_EQ(*scan.metres_per_unit, 0.001);
    EXPECT_NEAR(*scan.mass_kg, 5.8967, 1e-4);
    EXPECT_TRUE(scan.keep_frame);
    EXPECT_EQ(*scan.axis, Vec3(0, -1, 0));
    EXPECT_EQ(*scan.up, Vec3(0, 0, 2.5));
    const ScanRequest plain = scan_request(words_of({{"--frame", "auto"}}));
    EXPECT_FALSE(plain.keep_frame || plain.mass_kg || plain.metres_per_unit || plain.axis);
}

TEST(CommandLine, ScanFaults) {
    const auto scan = [](std::vector<std::string> more) {
        std::vector<std::string> words{"scan", "a.ply", "-o", "body.ply"};
        words.insert(words.end(), more.begin(), more.end());
        return complaint(words);
    };
    EXPECT_EQ(complaint({"scan"}), "scan needs a raw scan: scan RAW.ply -o BODY.ply");
    EXPECT_EQ(complaint({"scan", "a.ply"}), "scan needs the name of the body to write: -o BODY.ply");
    EXPECT_THAT(complaint({"scan", "a.ply", "-o", "b.stl"}), HasSubstr("so that it ends in .ply"));
    EXPECT_THAT(scan(std::vector<std::string>(scan::most_scans, "b.ply")),
                HasSubstr(fmt::format("here are {}", scan::most_scans + 1)));
    EXPECT_THAT(scan({"--scan-unit", "mmm"}), HasSubstr("--scan-unit: found"));
    EXPECT_THAT(scan({"--mass", "13"}), HasSubstr("--mass: found"));
    EXPECT_EQ(scan({"--mass", "0 kg"}), "--mass: found '0 kg'; expected a mass above zero");
    EXPECT_EQ(scan({"--frame", "world"}), "--frame: found 'world'; expected auto or file");
    for (const char* axis : {"1,0", "1;0;0", "1,0,0,0", "0,0,0", "x,y,z"})
        EXPECT_THAT(scan({"--axis", axis}), HasSubstr("expected three numbers, not all zero")) << axis;
    EXPECT_EQ(scan({"--axis", "1,0,0", "--up", "-2,0,0"}),
              "--axis and --up look the same way; expected them across each other");
}

TEST(CommandLine, ValuesOfOptionsAreChecked) {
    EXPECT_THAT(complaint({"check", "a.toml", "--units", "imperial"}),
                HasSubstr("found 'imperial'; expected metric or us"));
    EXPECT_THAT(complaint({"check", "a.toml", "--units"}), HasSubstr("--units"));
    EXPECT_THAT(complaint({"check", "a.toml", "-o"}), HasSubstr("-o needs a value"));
    EXPECT_EQ(complaint({"check", "a.toml", "-o", ""}), "--output needs the name of a file");
    EXPECT_EQ(complaint({"check", "a.toml", "--json", "--csv"}),
              "--json and --csv do not go together; drop one");
    EXPECT_NE(complaint({"check", "a.toml", "--json=maybe"}), "no complaint");
}

}  // namespace
}  // namespace evenspit
