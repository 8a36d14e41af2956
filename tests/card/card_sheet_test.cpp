// SPDX-License-Identifier: MIT
// A card fits its page: no words over one another, none off the page.
#include "card/card_sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "card/card_loads.h"
#include "card/paper.h"

namespace evenspit::card {
namespace {

using test::CardedLoad;

std::vector<SheetText> texts_of(const Sheet& sheet) {
    std::vector<SheetText> texts;
    for (const SheetShape& shape : sheet.shapes) {
        if (const auto* text = std::get_if<SheetText>(&shape)) texts.push_back(*text);
    }
    return texts;
}

/// Words that lie over others or leave the page; empty if there are none.
std::string lost_words(const Sheet& sheet) {
    constexpr double blank_pt = 14;  // 5 mm that printers do not reach
    const std::vector<SheetText> texts = texts_of(sheet);
    std::string lost;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const Frame& room = texts[i].room;
        if (room.x < blank_pt || room.y < blank_pt || room.right() > sheet.width_pt - blank_pt ||
            room.bottom() > sheet.height_pt - blank_pt)
            lost += "off the page: " + texts[i].text + "\n";
        for (std::size_t j = i + 1; j < texts.size(); ++j) {
            // Letters of one line may touch those of the next by what their rooms are generous.
            Frame other = texts[j].room;
            const double slack = 0.06 * texts[j].size_pt;
            other.y += slack;
            other.height -= 2 * slack;
            if (room.overlaps(other)) lost += texts[i].text + " | " + texts[j].text + "\n";
        }
    }
    return lost;
}

double smallest_pt(const Sheet& sheet) {
    double smallest = 100;
    for (const SheetText& text : texts_of(sheet)) smallest = std::min(smallest, text.size_pt);
    return smallest;
}

std::string all_words(const Sheet& sheet) {
    std::string words;
    for (const SheetText& text : texts_of(sheet)) words += text.text + "\n";
    return words;
}

void expect_paths_on_page(const Sheet& sheet) {
    const Frame page{0, 0, sheet.width_pt, sheet.height_pt};
    for (const SheetShape& shape : sheet.shapes) {
        const auto* path = std::get_if<SheetPath>(&shape);
        if (path == nullptr) continue;
        for (const auto& ring : path->rings) {
            for (const Vec2& p : ring) {
                ASSERT_TRUE(p.allFinite());
                ASSERT_TRUE(p.x() >= 0 && p.y() >= 0 && p.x() <= page.width && p.y() <= page.height)
                    << p.transpose();
            }
        }
    }
}

TEST(CardSheet, EverySampleFitsOnePageOfEitherSize) {
    const Letters letters;
    for (const std::string& file : test::sample_loads()) {
        SCOPED_TRACE(file);
        const CardedLoad& carded = test::carded_sample(file);
        for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
            const Sheet sheet = lay_out(carded.card(units), carded.drawn(units),
                                        units == UnitSystem::us ? letter : a4, letters.measure());
            EXPECT_EQ(lost_words(sheet), "");
            expect_paths_on_page(sheet);
            const bool goes_outside = carded.analysis.verdict != Level::stop;
            EXPECT_GE(smallest_pt(sheet), goes_outside ? 7.5 : 6.5) << "the words at the foot";
            EXPECT_THAT(all_words(sheet), testing::HasSubstr("Take care"));
            EXPECT_THAT(all_words(sheet), testing::Not(testing::HasSubstr("find no room")));
        }
    }
}

TEST(CardSheet, ManyBirdsManyForksAndALongTitleFit) {
    const test::TemporaryFolder folder;
    const Letters letters;
    for (const int forks : {10, 16}) {
        const CardedLoad carded = test::carded(
            folder.write("crowded.toml",
                         test::crowded_load(test::long_title(), forks == 10 ? 6 : 7, forks == 10 ? 10 : 11)));
        for (const Paper& paper : {a4, letter}) {
            const Sheet sheet = lay_out(carded.card(), carded.drawn(), paper, letters.measure());
            EXPECT_EQ(lost_words(sheet), "");
            expect_paths_on_page(sheet);
        }
    }
}

TEST(CardSheet, WhatFindsNoRoomIsCounted) {
    const CardedLoad carded = test::carded_sample("leg-of-lamb.toml");
    Card card = carded.card();
    for (int n = 0; n < 300; ++n)
        card.sections.front().steps.push_back({"", "One more thing to do before it goes on."});
    const Letters letters;
    const Sheet sheet = lay_out(card, carded.drawn(), a4, letters.measure());
    EXPECT_EQ(lost_words(sheet), "");
    EXPECT_THAT(all_words(sheet), testing::HasSubstr(" more find no room here."));
    EXPECT_THAT(all_words(sheet), testing::HasSubstr("Makers' manuals")) << "cautions are never left out";
}

TEST(CardSheet, ALoadWithoutForksAndTitleStillMakesACard) {
    const test::TemporaryFolder folder;
    const CardedLoad carded = test::carded(folder.write("bare.toml", test::crowded_load("", 1, 0)));
    const Letters letters;
    const Sheet sheet = lay_out(carded.card(), carded.drawn(), a4, letters.measure());
    EXPECT_EQ(lost_words(sheet), "");
    EXPECT_THAT(all_words(sheet), testing::HasSubstr("bare.toml"));
}

}  // namespace
}  // namespace evenspit::card
