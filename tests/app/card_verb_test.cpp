// SPDX-License-Identifier: MIT
// The verb `card`, from the command line to the file.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/sample_load.h"
#include "app/verb_runner.h"

namespace evenspit {
namespace {

using test::Ending;
using test::run_with_models;
using test::TemporaryFolder;
using testing::HasSubstr;
using testing::StartsWith;

Ending card(const std::filesystem::path& load, const std::filesystem::path& output,
            std::vector<std::string> more = {}) {
    std::vector<std::string> words{"card", load.string(), "-o", output.string(), "--mountings", "16"};
    words.insert(words.end(), more.begin(), more.end());
    return run_with_models(words);
}

TEST(CardVerb, WritesAPdfAndTellsTheVerdict) {
    const TemporaryFolder folder;
    const auto load = test::write_sample_load(folder);
    const Ending ending = card(load, folder / "card.pdf");
    EXPECT_EQ(ending.status, computed) << ending.err;
    EXPECT_THAT(test::content_of(folder / "card.pdf"), StartsWith("%PDF-"));
    EXPECT_THAT(ending.out, HasSubstr("One page A4 for Sample roast."));
    const std::string checked = run_with_models({"check", load.string(), "--mountings", "16"}).out;
    EXPECT_EQ(ending.out.substr(0, ending.out.find('\n')), checked.substr(0, checked.find('\n')));
}

TEST(CardVerb, WritesAnSvg) {
    const TemporaryFolder folder;
    const Ending ending = card(test::write_sample_load(folder), folder / "card.svg", {"--units", "us"});
    EXPECT_EQ(ending.status, computed) << ending.err;
    EXPECT_THAT(test::content_of(folder / "card.svg"), HasSubstr("<svg"));
    EXPECT_THAT(ending.out, HasSubstr("One page Letter for Sample roast."));
}

TEST(CardVerb, WritesAPage) {
    const TemporaryFolder folder;
    const Ending ending = card(test::write_sample_load(folder), folder / "card.html");
    EXPECT_EQ(ending.status, computed) << ending.err;
    EXPECT_THAT(test::content_of(folder / "card.html"), StartsWith("<!DOCTYPE html>"));
    EXPECT_THAT(ending.out, HasSubstr("A page for a browser for Sample roast."));
}

TEST(CardVerb, AStopIsDrawnAndToldByTheStatus) {
    const TemporaryFolder folder;
    const Ending ending =
        card(test::write_sample_load(folder, {.rated_torque = "0.02 N m", .stall_torque = "0.04 N m"}),
             folder / "card.pdf");
    EXPECT_EQ(ending.status, computed_stop);
    EXPECT_THAT(ending.out, StartsWith("STOP"));
    EXPECT_TRUE(std::filesystem::exists(folder / "card.pdf"));
}

TEST(CardVerb, NeedsAFileThatEndsAsACardDoes) {
    const TemporaryFolder folder;
    const auto load = test::write_sample_load(folder);
    const Ending none = run_with_models({"card", load.string()});
    EXPECT_EQ(none.status, bad_input);
    EXPECT_THAT(none.err, HasSubstr("card needs the name of a file: card LOAD.toml -o CARD.pdf"));
    const Ending other = card(load, folder / "card.png");
    EXPECT_EQ(other.status, bad_input);
    EXPECT_THAT(other.err, HasSubstr("expected a file that ends in .pdf"));
    EXPECT_FALSE(std::filesystem::exists(folder / "card.png"));
    EXPECT_EQ(run_with_models({"card"}).status, bad_input);
}

TEST(CardVerb, NeverWritesOverWhatItRead) {
    const TemporaryFolder folder;
    const auto load = test::write_sample_load(folder);
    std::filesystem::create_hard_link(folder / "body.ply", folder / "body.pdf");
    const std::string before = test::content_of(folder / "body.ply");
    const Ending ending = card(load, folder / "body.pdf");
    EXPECT_EQ(ending.status, bad_input);
    EXPECT_THAT(ending.err, HasSubstr("is what the result is made from"));
    EXPECT_EQ(test::content_of(folder / "body.ply"), before);
}

TEST(CardVerb, ABadLoadLeavesAnOlderCardAlone) {
    const TemporaryFolder folder;
    const auto older = folder.write("card.pdf", "an older card");
    const Ending ending = card(folder.write("bad.toml", "title = 3\n"), older);
    EXPECT_EQ(ending.status, bad_input);
    EXPECT_EQ(test::content_of(older), "an older card");
    EXPECT_EQ(card(test::write_sample_load(folder), folder / "no" / "such" / "card.pdf").status, bad_input);
}

}  // namespace
}  // namespace evenspit
