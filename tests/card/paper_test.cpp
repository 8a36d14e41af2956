// SPDX-License-Identifier: MIT
// What programs that read PDF and SVG make of a drawn card.
#include "card/paper.h"

#include <cstdlib>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "card/card_loads.h"
#include "card/card_sheet.h"

namespace evenspit::card {
namespace {

using test::TemporaryFolder;
using testing::HasSubstr;
using testing::Not;

/// What a command says; nothing if it fails.
std::string said_by(const TemporaryFolder& folder, const std::string& command) {
    const std::string file = (folder / "said").string();
    if (std::system((command + " >'" + file + "' 2>/dev/null").c_str()) != 0) return "";
    return test::content_of(file);
}

struct DrawnCard {
    Sheet sheet;
    std::string pdf, svg;
};

const DrawnCard& turkey_card() {
    static const DrawnCard drawn = [] {
        const Letters letters;
        const test::CardedLoad carded = test::carded_sample("harvest-turkey.toml");
        const Sheet sheet = lay_out(carded.card(), carded.drawn(), a4, letters.measure());
        return DrawnCard{sheet, pdf_of(sheet, letters, {"A <title> & more", "evenspit 1"}),
                         svg_of(sheet, letters)};
    }();
    return drawn;
}

TEST(Pdf, IsOnePageOfA4) {
    const TemporaryFolder folder;
    const std::string file = folder.write("card.pdf", turkey_card().pdf).string();
    const std::string info = said_by(folder, "pdfinfo '" + file + "'");
    EXPECT_THAT(info, testing::ContainsRegex("Pages: +1\n"));
    EXPECT_THAT(info, HasSubstr("(A4)"));
    EXPECT_THAT(info, HasSubstr("A <title> & more"));
}

TEST(Pdf, ItsTextCanBeSelected) {
    const TemporaryFolder folder;
    const std::string file = folder.write("card.pdf", turkey_card().pdf).string();
    const std::string text = said_by(folder, "pdftotext -raw '" + file + "' -");
    for (const SheetShape& shape : turkey_card().sheet.shapes) {
        const auto* line = std::get_if<SheetText>(&shape);
        if (line == nullptr) continue;
        EXPECT_THAT(text, HasSubstr(line->text));
    }
    EXPECT_THAT(text, HasSubstr("Harvest supper turkey"));
}

TEST(Pdf, ItsLettersAreInTheFile) {
    const TemporaryFolder folder;
    const std::string file = folder.write("card.pdf", turkey_card().pdf).string();
    const std::string fonts = said_by(folder, "pdffonts '" + file + "'");
    EXPECT_THAT(fonts, HasSubstr("DejaVuSans"));
    EXPECT_THAT(fonts, HasSubstr("DejaVuSans-Bold"));
    // Columns: embedded, subset, with a table of characters.
    EXPECT_THAT(fonts, HasSubstr("yes yes yes"));
    EXPECT_THAT(fonts, Not(HasSubstr("no ")));
}

TEST(Pdf, TheSameSheetGivesTheSameBytes) {
    const Letters letters;
    EXPECT_EQ(pdf_of(turkey_card().sheet, letters, {"A <title> & more", "evenspit 1"}), turkey_card().pdf);
}

TEST(Svg, IsADocumentOfThatSize) {
    const std::string& svg = turkey_card().svg;
    EXPECT_THAT(svg, testing::StartsWith("<?xml"));
    EXPECT_THAT(svg, HasSubstr("</svg>"));
    EXPECT_THAT(svg, HasSubstr("viewBox=\"0 0 595.276"));
}

TEST(Letters, BoldOnesAreWider) {
    const Letters letters;
    EXPECT_GT(letters.width_pt("Take it down", 10, true), letters.width_pt("Take it down", 10, false));
    EXPECT_NEAR(letters.width_pt("Take it down", 20, false), 2 * letters.width_pt("Take it down", 10, false),
                1e-6);
    EXPECT_EQ(letters.width_pt("", 10, false), 0);
}

}  // namespace
}  // namespace evenspit::card
