// SPDX-License-Identifier: MIT
// The page as text: what it holds, and that nothing of a load file becomes markup.
#include "card/html.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "card/card_loads.h"
#include "card/card_page.h"
#include "card/page_parts.h"

namespace evenspit::card {
namespace {

using test::CardedLoad;
using testing::HasSubstr;
using testing::Not;

std::string page_of(const CardedLoad& carded) {
    const Letters letters;
    return card_page(carded.card(), carded.drawn(), letters);
}

std::size_t count(const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size()))
        ++n;
    return n;
}

TEST(Html, HoldsAllThatTheCardSays) {
    const CardedLoad& carded = test::carded_sample("harvest-turkey.toml");
    const std::string page = page_of(carded);
    const Card card = carded.card();
    EXPECT_THAT(page, HasSubstr(html_escaped(card.verdict_words)));
    std::size_t boxes = 0;
    for (const CardSection& section : card.sections) {
        for (const CardStep& step : section.steps) EXPECT_THAT(page, HasSubstr(html_escaped(step.what)));
        for (const std::string& note : section.notes) EXPECT_THAT(page, HasSubstr(html_escaped(note)));
        boxes += section.steps.size();
    }
    EXPECT_EQ(count(page, "<input type=\"checkbox\""), boxes);
    EXPECT_EQ(count(page, "<svg "), 3U) << "wide, narrow, dial";
    EXPECT_THAT(page, HasSubstr("data-at="));
    EXPECT_THAT(page, HasSubstr("id=\"timer\""));
}

TEST(Html, AsksTheNetworkForNothing) {
    const std::string page = page_of(test::carded_sample("harvest-turkey.toml"));
    for (const char* word :
         {"http://", "https://", "url(", "@import", "<link", "fetch(", "XMLHttpRequest", "src=\"/"})
        EXPECT_THAT(page, Not(HasSubstr(word)));
    EXPECT_THAT(page, HasSubstr("default-src 'none'"));
}

TEST(Html, TextsOfALoadFileAreNoMarkup) {
    CardedLoad carded = test::carded_sample("harvest-turkey.toml");
    const std::string evil = "</title><script>alert(\"1\")</script> 'quoted' & \x01\x1b[31m --> ]]>";
    carded.load.title = evil;
    carded.load.items[0].name = "\"><img src=x onerror=alert(1)>";
    carded.load.file = "</script><b>.toml";
    const std::string page = page_of(carded);
    EXPECT_EQ(count(page, "<script"), 2U) << "the mesh and the page's own";
    EXPECT_EQ(count(page, "</script"), 2U);
    EXPECT_EQ(count(page, "<img"), 1U) << "the still picture";
    EXPECT_THAT(page, Not(HasSubstr("<b>")));
    EXPECT_THAT(page, Not(HasSubstr("\x01")));
    EXPECT_THAT(page, Not(HasSubstr("\x1b")));
    EXPECT_THAT(page, HasSubstr("&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt; &#39;quoted&#39; &amp;"));
}

TEST(Html, WithoutTimesThereIsNoTimer) {
    const std::string page = page_of(test::carded_sample("roll-test/turkey.toml"));
    EXPECT_THAT(page, Not(HasSubstr("id=\"timer\"")));
    EXPECT_THAT(page, Not(HasSubstr("data-at=")));
}

TEST(Html, TicksOfOneCardAreNotThoseOfAnother) {
    const auto mark = [](const std::string& page) {
        const std::string key = "data-card=\"";
        return page.substr(page.find(key) + key.size(), 16);
    };
    CardedLoad carded = test::carded_sample("leg-of-lamb.toml");
    const std::string one = mark(page_of(carded));
    EXPECT_EQ(mark(page_of(carded)), one);
    carded.load.forks[0].at_m += 0.01;
    EXPECT_NE(mark(page_of(carded)), one);
}

TEST(Html, IsSmallEnoughToBeSent) {
    EXPECT_LT(page_of(test::carded_sample("three-chickens.toml")).size(), 2'000'000U);
}

TEST(Base64, IsThatOfItsStandard) {
    // RFC 4648, section 10.
    EXPECT_EQ(base64(""), "");
    EXPECT_EQ(base64("f"), "Zg==");
    EXPECT_EQ(base64("fo"), "Zm8=");
    EXPECT_EQ(base64("foo"), "Zm9v");
    EXPECT_EQ(base64("foob"), "Zm9vYg==");
    EXPECT_EQ(base64(std::string("\xff\xfe\x00", 3)), "//4A");
}

}  // namespace
}  // namespace evenspit::card
