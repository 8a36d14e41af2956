// SPDX-License-Identifier: MIT
#include "report/json_writer.h"

#include <limits>

#include <gtest/gtest.h>

namespace evenspit {
namespace {

TEST(JsonText, OneKeyALineAndShortListsInARow) {
    const Json value = {{"name", "rod"}, {"at", {1.5, 2.0}}, {"inner", {{"list", {{{"a", 1}}, {{"a", 2}}}}}}};
    EXPECT_EQ(json_text(value), R"({
  "name": "rod",
  "at": [1.5,2.0],
  "inner": {
    "list": [
      {
        "a": 1
      },
      {
        "a": 2
      }
    ]
  }
}
)");
}

TEST(JsonText, LongListsOfNumbersFillRows) {
    Json curve = Json::array();
    for (int i = 0; i < 200; ++i) curve.push_back({i, i / 7.0});
    const std::string text = json_text({{"curve", curve}});
    EXPECT_EQ(Json::parse(text)["curve"], curve);
    std::size_t start = 0;
    std::size_t rows = 0;
    for (std::size_t end = 0; (end = text.find('\n', start)) != std::string::npos; start = end + 1, ++rows) {
        EXPECT_LE(end - start, 100u);
    }
    EXPECT_LT(rows, 100u);
}

TEST(JsonText, EmptyThingsStayOnTheirLine) {
    EXPECT_EQ(json_text(Json::object()), "{}\n");
    EXPECT_EQ(json_text(Json::array()), "[]\n");
    EXPECT_EQ(json_text({{"a", Json::array()}}), "{\n  \"a\": []\n}\n");
}

TEST(JsonText, NumbersReadBackToTheLastBit) {
    for (const double value :
         {0.1, 1.0 / 3.0, 9.80665, 5e-324, 1.7976931348623157e308, -2.2250738585072014e-308}) {
        EXPECT_EQ(Json::parse(json_text(Json::array({value})))[0].get<double>(), value);
    }
}

TEST(JsonText, KeysAreEscaped) {
    EXPECT_EQ(Json::parse(json_text({{"a \"b\"\n", 1}})).begin().key(), "a \"b\"\n");
}

TEST(JsonText, EscapesEveryControlCharacter) {
    Json json;
    json["a\x7f"] = "\x1b\u009B é";
    const std::string text = json_text(json);
    EXPECT_NE(text.find(R"("a\u007f": "\u001b\u009b é")"), std::string::npos) << text;
    EXPECT_EQ(Json::parse(text), json);
}

}  // namespace
}  // namespace evenspit
