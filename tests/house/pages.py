"""Every page and who may open it: the one table, complete against the list of addresses.

One line for each page. A cell is what a GET, then a POST of the form left empty, are answered
with: a status, or `in` for being led to the sign-in page. A page that a role may not open answers
404, in the same words as for a page that is not there. The assistant asked here has everybody of
the samples in sight; `unseen` is an assistant who has nobody in sight. Each has just given the
password. The other methods need no cell, since they are answered alike everywhere: see `wanted`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.urls import URLPattern, URLResolver, get_resolver, reverse

WHO = ("stranger", "artist", "assistant", "unseen", "wording_reader", "keeper")
FORGED = "POST without token"
METHODS = ("GET", "HEAD", "POST", FORGED, "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE")
# Answers after which nothing may have changed.
REFUSED = {"in", "403", "404", "405"}

#   page                         stranger  artist    assistant unseen    reader    keeper
TABLE = """
    today:today                  in/in     200/405   200/405   200/405   200/405   200/405
    today:person                 in/in     200/405   200/405   404/405   404/404   404/404
    today:write                  200/422   200/422   200/422   200/422   200/422   200/422
    today:worker                 200/405   200/405   200/405   200/405   200/405   200/405
    today:hello                  401/405   200/405   200/405   200/405   200/405   200/405
    today:send                   405/401   405/400   405/400   405/400   405/400   405/400
    today:waiting                in/in     200/405   200/405   200/405   200/405   200/405
    today:entry                  in/in     200/422   404/404   404/404   404/404   404/404
    today:let_entry_go           in/in     405/302   405/404   405/404   405/404   405/404
    today:receipt                in/in     200/422   200/422   404/404   404/404   404/404
    today:day_sheet              in/in     200/422   200/422   200/422   404/404   404/404
    today:type_in                in/in     200/422   404/404   404/404   404/404   404/404
    privacy:sign_in              200/422   302/302   302/302   302/302   302/302   302/302
    privacy:speak                405/422   405/422   405/422   405/422   405/422   405/422
    privacy:code                 in/in     302/302   302/302   302/302   302/302   302/302
    privacy:sign_out             405/302   405/302   405/302   405/302   405/302   405/302
    privacy:away                 200/405   200/405   200/405   200/405   200/405   200/405
    privacy:no_icon              204/405   204/405   204/405   204/405   204/405   204/405
    privacy:sure                 in/in     200/422   200/422   200/422   200/422   200/422
    privacy:clock                in/in     200/302   200/404   200/404   200/404   200/302
    privacy:own                  in/in     200/405   200/405   200/405   200/405   200/405
    privacy:language             in/in     405/422   405/422   405/422   405/422   405/422
    privacy:password             in/in     200/422   200/422   200/422   200/422   200/422
    privacy:code_device          in/in     302/302   302/302   302/302   302/302   302/302
    privacy:new_code_device      in/in     405/422   405/422   405/422   405/422   405/422
    privacy:new_paper            in/in     405/422   405/422   405/422   405/422   405/422
    privacy:code_picture         in/in     404/405   404/405   404/405   404/405   404/405
    privacy:accounts             in/in     200/405   404/404   404/404   404/404   200/405
    privacy:new_account          in/in     200/422   404/404   404/404   404/404   200/422
    privacy:end_all_sessions     in/in     405/in    404/404   404/404   404/404   405/in
    privacy:seen                 in/in     405/302   404/404   404/404   404/404   405/302
    privacy:account              in/in     200/405   404/404   404/404   404/404   200/405
    privacy:end_sessions         in/in     405/422   404/404   404/404   404/404   405/422
    privacy:lost_phone           in/in     405/422   404/404   404/404   404/404   405/422
    privacy:lost_codes           in/in     405/422   404/404   404/404   404/404   405/422
    privacy:free                 in/in     405/422   404/404   404/404   404/404   405/422
    privacy:change_role          in/in     200/422   404/404   404/404   404/404   200/422
    privacy:give_password        in/in     200/422   404/404   404/404   404/404   200/422
    privacy:let_go               in/in     405/422   404/404   404/404   404/404   405/422
    privacy:let_in               in/in     405/422   404/404   404/404   404/404   405/422
    people:list                  in/in     200/422   200/200   200/200   404/404   404/404
    people:new                   in/in     200/422   200/422   200/422   404/404   404/404
    people:contacts              in/in     200/422   404/404   404/404   404/404   404/404
    people:contact_columns       in/in     405/422   404/404   404/404   404/404   404/404
    people:contact_lines         in/in     405/422   404/404   404/404   404/404   404/404
    people:take_contacts         in/in     405/422   404/404   404/404   404/404   404/404
    people:rang_us               in/in     200/422   200/422   200/422   404/404   404/404
    people:settle_rang_us        in/in     405/302   404/404   404/404   404/404   404/404
    people:settle_shared         in/in     405/302   404/404   404/404   404/404   404/404
    people:heard                 in/in     200/405   200/405   200/405   200/405   200/405
    people:hold_by_code          in/in     200/422   200/422   200/422   200/422   200/422
    people:lift_by_code          in/in     200/422   404/404   404/404   404/404   200/422
    people:undo_never_ring       in/in     200/422   404/404   404/404   404/404   200/422
    people:communities           in/in     200/422   404/404   404/404   404/404   404/404
    people:hope                  in/in     200/422   404/404   404/404   404/404   404/404
    people:outside               in/in     200/422   404/404   404/404   404/404   404/404
    people:detail                in/in     200/405   200/405   404/405   404/404   404/404
    people:vouch                 in/in     200/422   200/422   404/404   404/404   404/404
    people:may_vouch             in/in     405/302   404/404   404/404   404/404   404/404
    people:mend                  in/in     200/422   200/422   404/404   404/404   404/404
    people:hold                  in/in     200/422   200/422   404/404   404/404   404/404
    people:lift                  in/in     200/422   404/404   404/404   404/404   404/404
    people:never_ring            in/in     200/422   200/422   404/404   404/404   404/404
    people:phone                 in/in     200/422   200/422   404/404   404/404   404/404
    people:split                 in/in     405/422   405/422   405/404   404/404   404/404
    people:zone                  in/in     200/422   200/422   404/404   404/404   404/404
    people:told                  in/in     200/422   404/404   404/404   404/404   404/404
    people:mend_told             in/in     200/422   404/404   404/404   404/404   404/404
    people:same                  in/in     200/422   404/404   404/404   404/404   404/404
    people:show_number           in/in     405/200   405/200   405/404   404/404   404/404
    people:end_line              in/in     405/302   405/302   405/404   404/404   404/404
    people:names                 in/in     200/422   404/404   404/404   404/404   404/404
    people:mend_name             in/in     200/422   404/404   404/404   404/404   404/404
    people:show_names            in/in     405/200   405/200   405/404   404/404   404/404
    people:born                  in/in     200/422   200/422   404/404   404/404   404/404
    people:level                 in/in     200/422   404/404   404/404   404/404   404/404
    people:condition             in/in     200/422   200/422   404/404   404/404   404/404
    people:speaker               in/in     200/422   200/422   404/404   404/404   404/404
    people:changed               in/in     200/422   200/422   404/404   404/404   404/404
    people:asked_again           in/in     405/422   405/422   405/404   404/404   404/404
    people:new_name              in/in     200/422   404/404   404/404   404/404   404/404
    people:ways                  in/in     200/422   200/422   404/404   404/404   404/404
    meetings:list                in/in     200/405   200/405   200/405   404/404   404/404
    meetings:rings               in/in     200/405   200/405   200/405   404/404   404/404
    meetings:ring                in/in     200/422   200/422   404/404   404/404   404/404
    meetings:number              in/in     405/302   405/302   405/404   404/404   404/404
    meetings:ring_later          in/in     200/422   200/422   404/404   404/404   404/404
    meetings:thinking            in/in     200/422   200/422   404/404   404/404   404/404
    meetings:never               in/in     200/422   200/422   404/404   404/404   404/404
    meetings:plan                in/in     200/422   200/422   404/404   404/404   404/404
    meetings:fix                 in/in     200/422   200/422   404/404   404/404   404/404
    meetings:trips               in/in     200/405   200/405   200/405   404/404   404/404
    meetings:new_trip            in/in     200/422   200/422   200/422   404/404   404/404
    meetings:light_of            in/in     200/422   200/422   200/422   404/404   404/404
    meetings:calendar            in/in     200/405   200/405   200/405   404/404   404/404
    meetings:who_helps           in/in     200/422   200/422   404/404   404/404   404/404
    meetings:recordings          in/in     200/405   404/404   404/404   404/404   404/404
    meetings:recording           in/in     200/422   404/404   404/404   404/404   404/404
    meetings:last_day            in/in     200/422   404/404   404/404   404/404   404/404
    meetings:interviews          in/in     200/422   404/404   404/404   404/404   404/404
    meetings:interview           in/in     200/422   404/404   404/404   404/404   404/404
    meetings:how_are_you         in/in     200/422   404/404   404/404   404/404   404/404
    meetings:helpers             in/in     200/422   200/422   200/422   404/404   404/404
    meetings:detail              in/in     200/422   200/422   404/404   404/404   404/404
    meetings:place               in/in     405/200   405/200   405/404   404/404   404/404
    meetings:write_up            in/in     200/422   200/422   404/404   404/404   404/404
    pictures:list                in/in     200/405   200/405   200/405   404/404   404/404
    pictures:sittings            in/in     200/405   200/405   200/405   404/404   404/404
    pictures:sit                 in/in     200/422   200/422   404/404   404/404   404/404
    pictures:join                in/in     200/422   200/422   404/404   404/404   404/404
    pictures:sheets              in/in     200/422   200/422   404/404   404/404   404/404
    pictures:sitting             in/in     200/405   200/405   404/405   404/404   404/404
    pictures:add                 in/in     200/422   200/422   404/404   404/404   404/404
    pictures:detail              in/in     200/405   200/405   404/405   404/404   404/404
    pictures:light_copy          in/in     200/405   200/405   404/405   404/404   404/404
    pictures:copy                in/in     200/422   200/422   404/404   404/404   404/404
    pictures:mend                in/in     200/422   200/422   404/404   404/404   404/404
    pictures:caption             in/in     200/422   404/404   404/404   404/404   404/404
    pictures:quote               in/in     200/422   404/404   404/404   404/404   404/404
    pictures:crop                in/in     200/422   200/422   404/404   404/404   404/404
    pictures:strangers           in/in     200/422   200/422   404/404   404/404   404/404
    pictures:leaks               in/in     200/405   404/404   404/404   404/404   404/404
    pictures:hold                in/in     200/422   200/422   404/404   404/404   404/404
    pictures:lift                in/in     200/422   404/404   404/404   404/404   404/404
    referrals:introductions      in/in     200/405   404/404   404/404   404/404   404/404
    referrals:tables             in/in     200/405   404/404   404/404   404/404   404/404
    referrals:thanked            in/in     405/302   404/404   404/404   404/404   404/404
    referrals:asked_to_tell      in/in     405/302   404/404   404/404   404/404   404/404
    referrals:links              in/in     200/422   404/404   404/404   404/404   404/404
    referrals:links_of           in/in     200/405   404/404   404/404   404/404   404/404
    referrals:seal               in/in     200/422   404/404   404/404   404/404   404/404
    referrals:seal_all           in/in     200/422   404/404   404/404   404/404   404/404
    referrals:questions          in/in     200/405   404/404   404/404   404/404   404/404
    referrals:share              in/in     200/405   404/404   404/404   404/404   404/404
    referrals:share_drawing      in/in     405/422   404/404   404/404   404/404   404/404
    referrals:share_file         in/in     200/405   404/404   404/404   404/404   404/404
    referrals:working_map        in/in     405/422   404/404   404/404   404/404   404/404
    referrals:growth             in/in     200/405   404/404   404/404   404/404   404/404
    referrals:names              in/in     405/200   404/404   404/404   404/404   404/404
    referrals:growth_pdf         in/in     200/422   404/404   404/404   404/404   404/404
    referrals:waves              in/in     200/405   404/404   404/404   404/404   404/404
    referrals:person             in/in     200/405   404/404   404/404   404/404   404/404
    consent:list                 in/in     200/405   200/405   200/405   404/404   404/404
    consent:print                in/in     200/422   200/422   200/422   404/404   404/404
    consent:blanks               in/in     200/422   200/422   200/422   404/404   404/404
    consent:blanks_pdf           in/in     200/405   200/405   200/405   404/404   404/404
    consent:from_before          in/in     200/422   404/404   404/404   404/404   404/404
    consent:file                 in/in     200/422   200/422   200/422   404/404   404/404
    consent:bring_home           in/in     200/422   200/422   200/422   404/404   404/404
    consent:brought              in/in     200/405   200/405   200/405   404/404   404/404
    consent:go_on                in/in     405/302   405/302   405/302   404/404   404/404
    consent:tray                 in/in     200/405   200/405   200/405   404/404   404/404
    consent:blanks_aside         in/in     405/302   405/302   405/302   404/404   404/404
    consent:place                in/in     200/422   200/422   200/422   404/404   404/404
    consent:set_aside            in/in     200/422   200/422   200/422   404/404   404/404
    consent:loose_page           in/in     200/405   200/405   200/405   404/404   404/404
    consent:whose                in/in     200/422   200/422   200/422   404/404   404/404
    consent:wordings             in/in     200/405   200/405   200/405   200/405   200/405
    consent:wording              in/in     200/422   200/422   200/422   200/422   200/422
    consent:write                in/in     200/422   404/404   404/404   404/404   404/404
    consent:proof                in/in     200/405   200/405   200/405   200/405   200/405
    consent:papers               in/in     200/422   200/422   200/422   404/404   404/404
    consent:paper_proof          in/in     200/405   200/405   200/405   200/405   200/405
    consent:detail               in/in     200/405   200/405   200/405   404/404   404/404
    consent:pdf                  in/in     200/405   200/405   200/405   404/404   404/404
    consent:move                 in/in     200/422   200/422   200/422   404/404   404/404
    consent:scan                 in/in     200/405   200/405   200/405   404/404   404/404
    consent:keep                 in/in     200/422   404/404   404/404   404/404   404/404
    consent:record               in/in     200/405   404/404   404/404   404/404   404/404
    consent:receipt              in/in     200/405   404/404   404/404   404/404   404/404
    consent:kept                 in/in     200/405   404/404   404/404   404/404   404/404
    consent:boxes                in/in     200/405   200/405   200/405   404/404   404/404
    consent:read                 in/in     404/404   200/422   200/422   404/404   404/404
    consent:settle               in/in     200/422   404/404   404/404   404/404   404/404
    consent:answers              in/in     200/422   404/404   404/404   404/404   404/404
    consent:guardian             in/in     200/422   404/404   404/404   404/404   404/404
    consent:meeting_sheet        in/in     200/422   200/422   404/404   404/404   404/404
    consent:sitting_sheet        in/in     200/422   200/422   404/404   404/404   404/404
    consent:spot_sheet           in/in     200/422   200/422   200/422   404/404   404/404
    consent:said_of              in/in     200/405   404/404   404/404   404/404   404/404
    consent:read_to              in/in     200/422   404/404   404/404   404/404   404/404
    consent:speaker_says         in/in     200/422   404/404   404/404   404/404   404/404
    prints:owed                  in/in     200/405   200/405   200/405   404/404   404/404
    prints:owe                   in/in     405/422   404/404   404/404   404/404   404/404
    prints:without_picture       in/in     200/422   200/422   200/422   404/404   404/404
    prints:find                  in/in     200/422   200/422   200/422   404/404   404/404
    prints:slips                 in/in     200/422   200/422   200/422   404/404   404/404
    prints:promises              in/in     200/405   200/405   200/405   404/404   404/404
    prints:new_promise           in/in     200/422   200/422   200/422   404/404   404/404
    prints:lab                   in/in     200/422   200/422   200/422   404/404   404/404
    prints:order                 in/in     200/405   200/405   404/405   404/404   404/404
    prints:lab_slip              in/in     405/422   405/422   405/404   404/404   404/404
    prints:lab_files             in/in     200/422   200/422   404/404   404/404   404/404
    prints:hand_over             in/in     200/422   200/422   404/404   404/404   404/404
    prints:collect               in/in     200/422   200/422   404/404   404/404   404/404
    prints:prices                in/in     200/422   200/422   404/404   404/404   404/404
    prints:kept                  in/in     200/422   200/422   404/404   404/404   404/404
    prints:end_promise           in/in     200/422   200/422   404/404   404/404   404/404
    prints:way                   in/in     200/405   200/405   404/405   404/404   404/404
    prints:quarters              in/in     200/422   200/422   200/422   404/404   404/404
    prints:rounds                in/in     200/405   200/405   200/405   404/404   404/404
    prints:round                 in/in     200/422   200/422   200/422   404/404   404/404
    prints:walk                  in/in     200/405   404/405   404/405   404/404   404/404
    prints:set_out               in/in     405/422   405/404   405/404   404/404   404/404
    prints:call_off              in/in     405/422   405/404   405/404   404/404   404/404
    prints:places                in/in     405/200   405/404   405/404   404/404   404/404
    prints:names                 in/in     405/200   405/404   405/404   404/404   404/404
    prints:typed                 in/in     200/422   404/404   404/404   404/404   404/404
    prints:where                 in/in     200/422   200/422   404/404   404/404   404/404
    prints:place                 in/in     405/200   405/200   405/404   404/404   404/404
    prints:step                  in/in     200/422   200/422   404/404   404/404   404/404
    uses:plans                   in/in     200/405   404/404   404/404   404/404   404/404
    uses:new_plan                in/in     200/422   404/404   404/404   404/404   404/404
    uses:weigh                   in/in     200/422   404/404   404/404   404/404   404/404
    uses:pictures                in/in     200/422   404/404   404/404   404/404   404/404
    uses:names                   in/in     200/422   404/404   404/404   404/404   404/404
    uses:words                   in/in     200/422   404/404   404/404   404/404   404/404
    uses:people                  in/in     200/405   404/404   404/404   404/404   404/404
    uses:calendar                in/in     200/405   404/404   404/404   404/404   404/404
    uses:sidecars                in/in     200/405   404/404   404/404   404/404   404/404
    uses:sidecars_zip            in/in     200/405   404/404   404/404   404/404   404/404
    uses:drop                    in/in     405/302   404/404   404/404   404/404   404/404
    uses:new_sheet               in/in     200/422   404/404   404/404   404/404   404/404
    uses:sheets                  in/in     200/405   404/404   404/404   404/404   404/404
    uses:clearance               in/in     200/405   404/404   404/404   404/404   404/404
    uses:clearance_pdf           in/in     302/405   404/404   404/404   404/404   404/404
    uses:link                    in/in     405/422   404/404   404/404   404/404   404/404
    uses:end_sheet               in/in     405/422   404/404   404/404   404/404   404/404
    uses:word                    in/in     405/422   404/404   404/404   404/404   404/404
    uses:open_sheet              200/422   200/422   200/422   200/422   200/422   200/422
    uses:sheet                   404/405   404/405   404/405   404/405   404/405   404/405
    uses:sheet_pdf               404/405   404/405   404/405   404/405   404/405   404/405
    uses:confirm_sheet           405/404   405/404   405/404   405/404   405/404   405/404
    uses:confirm_down            405/404   405/404   405/404   405/404   405/404   405/404
    uses:shown                   in/in     200/405   404/404   404/404   404/404   404/404
    uses:new_shown               in/in     200/422   404/404   404/404   404/404   404/404
    uses:use                     in/in     200/422   404/404   404/404   404/404   404/404
    uses:last_words              in/in     200/405   404/404   404/404   404/404   404/404
    uses:last_words_calendar     in/in     200/405   404/404   404/404   404/404   404/404
    uses:situation               in/in     200/422   404/404   404/404   404/404   404/404
    uses:situation_of            in/in     200/422   404/404   404/404   404/404   404/404
    uses:stop_whom               in/in     200/422   200/422   200/422   200/422   200/422
    uses:stopped                 in/in     200/405   200/405   200/405   200/405   200/405
    uses:stop_unseen             in/in     405/422   405/422   405/422   405/422   405/422
    uses:stop                    in/in     200/422   200/422   404/404   404/404   404/404
    uses:undo_all                in/in     200/405   200/405   200/405   404/404   404/404
    uses:undo                    in/in     200/422   200/422   404/404   404/404   404/404
    uses:in_words                in/in     200/422   200/422   404/404   404/404   404/404
    uses:undo_line               in/in     405/422   405/422   405/404   404/404   404/404
    uses:held_back               in/in     404/404   404/404   404/404   404/404   200/405
    uses:hold_back               in/in     404/404   404/404   404/404   404/404   405/422
    uses:let_go_on               in/in     404/404   404/404   404/404   404/404   405/422
    rights:alarm                 in/in     200/422   200/422   200/422   200/422   200/422
    rights:lost                  200/422   302/302   302/302   302/302   302/302   302/302
    rights:card                  in/in     200/405   200/405   200/405   200/405   200/405
    rights:authority             in/in     200/422   404/404   404/404   404/404   200/422
    rights:tell                  in/in     200/422   404/404   404/404   404/404   404/404
    rights:tell_number           in/in     405/302   404/404   404/404   404/404   404/404
    rights:backups               in/in     200/405   404/404   404/404   404/404   200/405
    rights:raised                in/in     200/405   200/405   200/405   200/405   200/405
    rights:notice                in/in     200/422   200/422   404/404   404/404   404/404
    rights:affected              in/in     200/405   404/404   404/404   404/404   404/404
    rights:close                 in/in     405/422   404/404   404/404   404/404   405/422
    rights:others_ask            in/in     200/422   200/422   200/422   404/404   404/404
    rights:requests              in/in     200/422   200/422   200/422   404/404   404/404
    rights:request               in/in     200/405   404/404   404/404   404/404   404/404
    rights:request_step          in/in     405/422   404/404   404/404   404/404   404/404
    rights:request_file          in/in     200/422   404/404   404/404   404/404   404/404
    rights:agreed_word           in/in     200/422   404/404   404/404   404/404   404/404
    rights:misuse                in/in     200/422   200/422   200/422   404/404   404/404
    rights:misuse_step           in/in     405/422   404/404   404/404   404/404   404/404
    rights:counts                in/in     200/405   404/404   404/404   404/404   404/404
    rights:counts_pdf            in/in     405/422   404/404   404/404   404/404   404/404
    rights:impact                in/in     200/405   404/404   404/404   404/404   200/405
    rights:impact_pdf            in/in     200/405   404/404   404/404   404/404   200/405
    rights:closing               in/in     200/405   404/404   404/404   404/404   404/404
    rights:begin_closing         in/in     405/422   404/404   404/404   404/404   404/404
    rights:call_off_closing      in/in     405/422   404/404   404/404   404/404   404/404
    rights:close_project         in/in     405/422   404/404   404/404   404/404   404/404
    rights:end_print             in/in     200/422   404/404   404/404   404/404   404/404
    rights:deposit               in/in     200/405   404/404   404/404   404/404   404/404
    rights:deposit_pdf           in/in     200/405   404/404   404/404   404/404   404/404
    rights:people_endings        in/in     200/405   404/404   404/404   404/404   404/404
    rights:end_for               in/in     405/422   404/404   404/404   404/404   404/404
    rights:end_alike             in/in     405/422   404/404   404/404   404/404   404/404
    rights:take_back_ending      in/in     405/422   404/404   404/404   404/404   404/404
    rights:looked_for            in/in     405/422   404/404   404/404   404/404   404/404
    rights:handover              in/in     200/405   404/404   404/404   404/404   200/405
    rights:begin_handover        in/in     405/422   404/404   404/404   404/404   405/422
    rights:sign_handover         in/in     405/422   404/404   404/404   404/404   405/422
    rights:call_off_handover     in/in     405/422   404/404   404/404   404/404   405/422
    rights:handover_pdf          in/in     200/405   404/404   404/404   404/404   200/405
    rights:introduce             in/in     200/405   404/404   404/404   404/404   404/404
    rights:introduced            in/in     405/422   404/404   404/404   404/404   404/404
    rights:unwanted              in/in     200/422   200/422   404/404   404/404   404/404
    rights:lift_unwanted         in/in     405/422   404/404   404/404   404/404   404/404
    rights:register              in/in     200/405   404/404   404/404   404/404   200/405
    rights:ask_register          in/in     405/422   404/404   404/404   404/404   404/404
    rights:confirm_register      in/in     404/404   404/404   404/404   404/404   405/422
    rights:refuse_register       in/in     404/404   404/404   404/404   404/404   405/422
    rights:call_off_register     in/in     405/422   404/404   404/404   404/404   405/422
    rights:take_register         in/in     405/422   404/404   404/404   404/404   404/404
    rights:erase                 in/in     404/404   404/404   404/404   404/404   200/422
    rights:erased                in/in     404/404   404/404   404/404   404/404   200/405
    rights:erase_whom            in/in     404/404   404/404   404/404   404/404   200/422
    rights:letting_go            in/in     200/405   404/404   404/404   404/404   200/405
    rights:let_one_go            in/in     404/404   404/404   404/404   404/404   200/422
    rights:postpone              in/in     404/404   404/404   404/404   404/404   405/422
    trips:detail                 in/in     200/405   200/405   200/405   404/404   404/404
    trips:days                   in/in     200/422   200/422   200/422   404/404   404/404
    trips:plan                   in/in     200/422   200/422   200/422   404/404   404/404
    trips:portfolio              in/in     200/405   404/404   404/404   404/404   404/404
    trips:pack                   in/in     200/422   200/422   200/422   404/404   404/404
    trips:balance                in/in     200/422   200/422   200/422   404/404   404/404
    trips:alarm                  in/in     405/422   405/422   405/422   404/404   404/404
    trips:write_off              in/in     405/422   405/422   405/422   404/404   404/404
    trips:close                  in/in     405/422   405/422   405/422   404/404   404/404
"""
# The only pages somebody who has not signed in is answered by; all others lead to the sign-in page.
ALWAYS_WRITTEN = {"django_session"}  # when somebody was last here
# What looking writes: that somebody looked; and, there being no clock that works at night, what is
# due by the day is done when the working page is opened, whoever opens it: the day is laid out,
# and what 24 hours have passed over is let go. To open it twice is to do it once.
LOGGED = frozenset({"privacy_accessentry", "privacy_loghead"})
WRITTEN_ON_LOOKING = {
    "consent:scan": LOGGED,
    **dict.fromkeys(("consent:record", "consent:receipt", "consent:kept"), LOGGED),
    "consent:boxes": LOGGED,
    "consent:read": LOGGED,
    "consent:settle": LOGGED,
    "consent:loose_page": LOGGED,
    "uses:sidecars_zip": LOGGED,
    **dict.fromkeys(("referrals:introductions", "referrals:tables"), LOGGED),
    **dict.fromkeys((f"referrals:{page}" for page in ("growth", "waves", "person")), LOGGED),
    **dict.fromkeys(("referrals:links", "referrals:links_of", "referrals:questions"), LOGGED),
    **dict.fromkeys(("referrals:seal", "referrals:seal_all"), LOGGED),
    **dict.fromkeys(("referrals:share", "referrals:share_file"), LOGGED),
    **dict.fromkeys((f"referrals:{page}" for page in ("growth", "waves", "person")), LOGGED),
    "today:today": frozenset({"people_insight", "people_neverring"}),
}
PUBLIC = {
    *(f"privacy:{page}" for page in ("sign_in", "speak", "code", "sign_out", "away", "no_icon")),
    # An empty form, what keeps it in a browser, and 401 for whoever is not signed in.
    *(f"today:{page}" for page in ("write", "worker", "hello", "send")),
    # Something was lost: name and password raise the alarm, and nothing is shown.
    "rights:lost",
    # A venue has no account: a phrase opens one sheet, and nothing without its session.
    *(f"uses:{page}" for page in ("open_sheet", "sheet", "sheet_pdf")),
    *(f"uses:{page}" for page in ("confirm_sheet", "confirm_down")),
}


@dataclass(frozen=True)
class Page:
    """One named address, with its view and the parameters it takes."""

    name: str
    view: Any
    parameters: tuple[tuple[str, str], ...]  # name and the converter's expression

    def address(self, samples: dict[str, str]) -> str:
        """The address with, for each parameter, a sample of this room or any, or what fits."""
        room = self.name.split(":")[0]
        return reverse(
            self.name,
            kwargs={
                name: samples.get(f"{self.name}:{name}")
                or samples.get(f"{room}:{name}")
                or samples.get(name, ANY[expression])
                for name, expression in self.parameters
            },
        )


# For each kind of parameter, a value that fits it and is nobody's.
ANY = {
    "[^/]+": "ZZZZZ",
    "[0-9]+": "999999999",
    "[-a-zA-Z0-9_]+": "nowhere",
    "[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}": (
        "00000000-0000-4000-8000-000000000000"
    ),
    ".+": "nowhere",
    "[0-9]{5}-[0-9]{2}": "00000-00",  # the serial of a form
}


def pages() -> list[Page]:
    """Every named page of the site, in the order of its addresses; one without a name stops."""
    return list(_walk(get_resolver().url_patterns, ""))


def wanted(cell: str, method: str) -> str:
    """What a cell of the table wants a method to be answered with.

    HEAD is answered as GET. A form sent without its token is refused before anything is looked
    at, and so is every method that no browser sends of itself.
    """
    seen, _slash, sent = cell.partition("/")
    return {"GET": seen, "HEAD": seen, "POST": sent, FORGED: "403"}.get(method, "405")


def in_turn(page: Page, row: dict[str, str], at: int) -> set[tuple[str, str]]:
    """Everybody by the methods of a cell, and somebody by each other method: (who, method).

    `at` is the place of the page among all, so that its neighbours are asked by somebody else. A
    HEAD is asked by one whom the page answers, a form without its token is sent by one who may.
    """
    asked = {(who, method) for who in WHO for method in ("GET", "POST")}
    for turn, method in enumerate(one for one in METHODS if one not in ("GET", "POST")):
        like = {"HEAD": "GET", FORGED: "POST"}.get(method, method)
        may = [who for who in WHO if wanted(row[who], like) not in REFUSED] or WHO
        asked.add((may[(at + turn) % len(may)], method))
    return asked


def _walk(patterns: list[URLPattern | URLResolver], space: str) -> Iterator[Page]:
    for pattern in patterns:
        if isinstance(pattern, URLResolver):
            inner = f"{space}{pattern.namespace}:" if pattern.namespace else space
            yield from _walk(pattern.url_patterns, inner)
            continue
        if not pattern.name:
            raise ValueError(f"{pattern.pattern} has no name, so no test can ask for it")
        taken = tuple((name, c.regex) for name, c in pattern.pattern.converters.items())
        yield Page(f"{space}{pattern.name}", pattern.callback, taken)


def table() -> dict[str, dict[str, str]]:
    """The rows of the table: page -> who -> what GET and POST are answered with."""
    return read(TABLE)


def read(said: str) -> dict[str, dict[str, str]]:
    """The rows of a table written as this one is; a cell too few or a row twice stops."""
    rows: dict[str, dict[str, str]] = {}
    for name, *cells in map(str.split, said.strip().splitlines()):
        if len(cells) != len(WHO):
            raise ValueError(f"{name}: a row has one cell for each of {', '.join(WHO)}")
        if name in rows:
            raise ValueError(f"{name}: a page has one row")
        rows[name] = dict(zip(WHO, cells, strict=True))
    return rows


def line(name: str, row: dict[str, str]) -> str:
    """One row as it stands in the table."""
    return f"{name:<29}" + " ".join(f"{row[who]:<9}" for who in WHO).rstrip()
