// SPDX-License-Identifier: MIT
// Slips that people really made with their first load file, and whether the answer gets them on.
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/sample_load.h"
#include "app/verb_runner.h"

namespace evenspit {
namespace {

using test::content_of;
using test::Ending;
using test::run_with_models;
using test::TemporaryFolder;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

/// The sample load with the first `old` in it replaced.
class Mending : public testing::Test {
  protected:
    [[nodiscard]] Ending check_with(const std::string& old, const std::string& fresh) const {
        std::string text = content_of(test::write_sample_load(folder_));
        const std::size_t at = text.find(old);
        EXPECT_NE(at, std::string::npos) << old;
        text.replace(at, old.size(), fresh);
        return run_with_models({"check", folder_.write("slip.toml", text).string(), "--mountings", "0"});
    }

    TemporaryFolder folder_;
};

TEST_F(Mending, ARodShorterThanItsModelIsToldInTheLoadFile) {
    const Ending ending = run_with_models(
        {"check", folder_
                      .write("short.toml",
                             "[rod]\nmodel = \"square-8mm\"\nlength = \"500 mm\"\n[motor]\nmodel = "
                             "\"dc-gearmotor-12v\"\n[[item]]\nshape = \"turkey\"\nmass = \"13 lb\"\nat = "
                             "\"300 mm\"\n")
                      .string()});
    EXPECT_EQ(ending.status, 2);
    EXPECT_THAT(ending.err, Not(HasSubstr("models/rods"))) << "nobody shall edit what came along";
    EXPECT_THAT(ending.err,
                HasSubstr("short.toml:1:1: rod.supports: found 20 mm to 660 mm, from the model; expected "
                          "stations on the rod, from 0 to its length, 500 mm; write supports = … beside "
                          "model = …: it overrules the model's"));
}

TEST_F(Mending, AMissingSectionIsAnsweredWithAModel) {
    const Ending ending = check_with("[motor]\n", "[moter]\n");
    EXPECT_EQ(ending.status, 2);
    EXPECT_THAT(ending.err,
                AllOf(HasSubstr("did you mean 'motor'?"),
                      HasSubstr("add a section [motor], and under it model = \"dc-gearmotor-12v\" "
                                "(evenspit models lists them), or figures of your own (evenspit "
                                "keys motor tells which)")));
}

TEST_F(Mending, ForksThatLookAwayAreToBeTurnedRound) {
    const Ending one =
        check_with("at = \"230 mm\"\npoints = \"point\"", "at = \"230 mm\"\npoints = \"drive\"");
    EXPECT_LE(one.status, 1) << one.err;
    // Wrapped lines are one text again.
    const auto flat = [](std::string text) {
        std::string out;
        for (const char c : text) {
            if (c == '\n' || c == ' ') {
                if (out.empty() || out.back() != ' ') out += ' ';
            } else {
                out += c;
            }
        }
        return out;
    };
    EXPECT_THAT(flat(one.out),
                HasSubstr("One fork alone holds roast. Fork 1 looks away from it: turn it round, "
                          "so that its tines look to the point."));
    EXPECT_THAT(one.out, Not(HasSubstr("Give it a second one")));
    const Ending far =
        check_with("at = \"450 mm\"\npoints = \"drive\"", "at = \"450 mm\"\npoints = \"point\"");
    EXPECT_THAT(flat(far.out),
                HasSubstr("Fork 2 looks away from it: turn it round, so that its tines look to "
                          "the drive."));
    const std::string wrong = content_of(folder_ / "slip.toml");
    std::string both = wrong;
    both.replace(both.find("points = \"point\""), 16, "points = \"drive\"");
    const Ending none =
        run_with_models({"check", folder_.write("both.toml", both).string(), "--mountings", "0"});
    EXPECT_LE(none.status, 1) << none.err;
    EXPECT_THAT(
        flat(none.out),
        HasSubstr("No fork enters roast: the rod will turn inside it. Forks 1 and 2 look away from it: "
                  "turn them round, so that their tines are in the meat."));
}

TEST_F(Mending, InchesMayBeWrittenWithTheirMark) {
    const Ending ending = check_with("width = \"8 mm\"", "width = '5/16\"'");
    EXPECT_LT(ending.status, 2) << ending.err;
}

TEST_F(Mending, CurlyQuotesAreNamed) {
    const Ending ending = check_with("width = \"8 mm\"", "width = “8 mm”");
    EXPECT_EQ(ending.status, 2);
    EXPECT_THAT(ending.err,
                HasSubstr("slip.toml:5:9: found a curly quote, “; expected straight quotes, \"; type "
                          "it again: phones and word processors bend quotes"));
}

TEST_F(Mending, AMeasureThatNoSuchBirdHasIsAnsweredWithTheUsualOne) {
    const Ending ending = run_with_models({"shape", "turkey", "--mass", "13 lb", "--girth", "26 cm"});
    EXPECT_EQ(ending.status, 2);
    EXPECT_THAT(ending.err, HasSubstr("--girth: found 260 mm; expected about 655 mm"));
}

}  // namespace
}  // namespace evenspit
