// Text made fit for HTML, and templates filled with it.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace linerwright {

// Text fit for an element's content and for a quoted attribute. Controls, direction overrides and bytes that
// are no UTF-8 show as the replacement character.
std::string html_text(std::string_view text);
// Sizes such as "24 in to 20 in": a number keeps its fraction and its unit on its line.
std::string html_size(std::string_view text);
// The same inside <bdi>, so that right-to-left text leaves what stands around it alone.
std::string html_name(std::string_view text);

// Bytes other than letters, digits and -._~ by their numbers, fit for a part of an address (RFC 3986).
std::string percent_encoded(std::string_view text);

// The template with each {{slot}} replaced by its value; values are not looked at again. Throws
// std::logic_error on a slot without a value.
std::string filled(std::string_view text, const std::map<std::string_view, std::string_view>& slots);

// A table; cells are HTML. The first `texts` columns are words, the others numbers.
struct HtmlTable {
  std::string caption;
  std::vector<std::string> heads;
  std::size_t texts = 1;
  std::vector<std::vector<std::string>> rows;
};
std::string html_of(const HtmlTable& table);

// One of the figures at the top of a page, of plain texts.
std::string html_figure(const std::string& name, const std::string& value, const std::string& note);

// <ul> or <ol> of plain texts; nothing without any.
std::string html_list(const std::vector<std::string>& items, bool numbered);

}  // namespace linerwright
