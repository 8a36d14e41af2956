// SPDX-License-Identifier: MIT
#include "report/topic_words.h"

#include <set>
#include <sstream>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/text_layout.h"

namespace evenspit {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

TEST(TopicWords, EveryTopicOfAFindingHasAPage) {
    for (int code = 0; code <= static_cast<int>(Code::assumption); ++code) {
        const std::string_view topic = topic_of(static_cast<Code>(code));
        EXPECT_TRUE(find_topic(topic, UnitSystem::metric)) << topic;
    }
}

TEST(TopicWords, WordsACookLooksUpLeadToAPage) {
    for (const char* word :
         {"unbalance", "motor", "sag", "gap", "grip", "tines", "clock", "rod line", "rod-line", "stations",
          "cook", "fire", "mountings", "Roll Test", "counterweight", "scan", "thawing", "safety", "gas"})
        EXPECT_TRUE(find_topic(word, UnitSystem::metric)) << word;
    EXPECT_FALSE(find_topic("gravy", UnitSystem::metric));
    EXPECT_FALSE(find_topic("", UnitSystem::metric));
}

TEST(TopicWords, NoNameLeadsToTwoPages) {
    std::set<std::string> names;
    for (const std::string& name : topic_names()) EXPECT_TRUE(names.insert(name).second) << name;
}

TEST(TopicWords, PagesAreShortAndFit) {
    for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
        for (const Topic& topic : topics(units)) {
            const std::vector<std::string> lines = lines_of(topic_text(topic, {.units = units}));
            SCOPED_TRACE(std::string(topic.name));
            EXPECT_THAT(lines.front(), StartsWith(std::string(topic.name) + ": "));
            EXPECT_GE(lines.size(), 5U);
            EXPECT_LE(lines.size(), 13U);
            for (const std::string& line : lines) EXPECT_LE(display_width(line), 80) << line;
        }
    }
    for (const std::string& line : lines_of(topics_text({}))) {
        EXPECT_LE(display_width(line), 80) << line;
        EXPECT_THAT(line, Not(HasSubstr("…"))) << "no room for what it is about";
    }
}

TEST(TopicWords, TellLimitsInTheReadersUnits) {
    const auto page = [](const char* name, UnitSystem units) {
        return topic_text(find_topic(name, units).value(), {.units = units});
    };
    EXPECT_THAT(page("food", UnitSystem::metric), AllOf(HasSubstr("74 °C"), Not(HasSubstr("°F"))));
    EXPECT_THAT(page("food", UnitSystem::us), AllOf(HasSubstr("165 °F"), Not(HasSubstr("°C"))));
    EXPECT_THAT(page("gap", UnitSystem::metric), AllOf(HasSubstr("25 mm"), HasSubstr("50 mm")));
    EXPECT_THAT(page("thawing", UnitSystem::us), HasSubstr("13 lb"));
}

// Where something can burn, crush, sicken or poison, the page says so.
TEST(TopicWords, CautionsStandWhereTheyApply) {
    const auto page = [](const char* name) {
        return topic_text(find_topic(name, UnitSystem::metric).value(), {.width = 1000});
    };
    EXPECT_THAT(page("motor"), AllOf(HasSubstr("residual-current device"), HasSubstr("gears")));
    EXPECT_THAT(page("fire"), AllOf(HasSubstr("carbon monoxide"), HasSubstr("outdoors only")));
    EXPECT_THAT(page("food"), AllOf(HasSubstr("A thermometer decides"), HasSubstr("Wash hands")));
    EXPECT_THAT(page("thawing"), HasSubstr("never put frozen meat on a spit"));
    EXPECT_THAT(page("counterweight"), HasSubstr("hot"));
    EXPECT_THAT(page("roll test"), HasSubstr("let two lift it"));
    EXPECT_THAT(page("body"), HasSubstr("plastic timers"));
}

Finding finding(Level level, Code code) {
    Finding f;
    f.level = level;
    f.code = code;
    return f;
}

TEST(TopicWords, SayWhereToReadMoreOnlyIfThereIsSomethingToFix) {
    EXPECT_EQ(read_more_text({}), "");
    EXPECT_EQ(read_more_text({finding(Level::ready, Code::gap)}), "");
    EXPECT_EQ(read_more_text({finding(Level::ready, Code::gap), finding(Level::care, Code::tine_in_bone),
                              finding(Level::care, Code::grip_torque)}),
              "To read more: evenspit explain grip");
    EXPECT_EQ(read_more_text({finding(Level::stop, Code::gap), finding(Level::care, Code::motor_torque),
                              finding(Level::care, Code::grip_torque), finding(Level::care, Code::rod_sag)}),
              "To read more: evenspit explain clearance (or motor or grip)");
}

}  // namespace
}  // namespace evenspit
