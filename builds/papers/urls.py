"""Addresses of the papers, teach-back and hand-off."""

from django.urls import path

from builds.papers import check_views, hand_off_views, language_views, number_views, signing_views, teach_views, views
from builds.papers.family import urls as family

urlpatterns = [
    path("paper/", check_views.paper_check, name="paper_check"),
    path("papers/languages/", language_views.paper_languages, name="paper_languages"),
    path("papers/languages/<slug:language>/", language_views.paper_catalogue, name="paper_catalogue"),
    path("papers/languages/<slug:language>/read/", language_views.catalogue_read, name="catalogue_read"),
    path("builds/<str:number>/papers/", views.papers, name="papers"),
    path(
        "builds/<str:number>/papers/sentences/<slug:language>/", language_views.build_sentences, name="build_sentences"
    ),
    path(
        "builds/<str:number>/papers/sentences/<slug:language>/<slug:digest>/",
        language_views.sentence_translate,
        name="sentence_translate",
    ),
    path("builds/<str:number>/papers/reprint/", views.papers_reprint, name="papers_reprint"),
    path("builds/<str:number>/papers/issued/<int:pk>/", views.issued_paper, name="issued_paper"),
    path("builds/<str:number>/papers/issued/<int:pk>/collect/", views.paper_collect, name="paper_collect"),
    path("builds/<str:number>/papers/<slug:kind>/", views.paper_view, name="paper_view"),
    path("builds/<str:number>/papers/<slug:kind>/pdf/", views.paper_pdf, name="paper_pdf"),
    path("builds/<str:number>/papers/<slug:kind>/numbers/", number_views.paper_numbers, name="paper_numbers"),
    path("builds/<str:number>/papers/<slug:kind>/beside/<slug:language>/", views.paper_beside, name="paper_beside"),
    path("builds/<str:number>/papers/<slug:kind>/issue/", views.paper_issue, name="paper_issue"),
    path("builds/<str:number>/teach-back/", teach_views.teach_back, name="teach_back"),
    path(
        "builds/<str:number>/teach-back/tries/<int:pk>/strike/", teach_views.teach_back_strike, name="teach_back_strike"
    ),
    path("builds/<str:number>/teach-back/<int:adult>/<slug:item>/", teach_views.teach_back_try, name="teach_back_try"),
    path("builds/<str:number>/hand-off/", hand_off_views.hand_off, name="hand_off"),
    path("builds/<str:number>/hand-off/edit/", hand_off_views.hand_off_edit, name="hand_off_edit"),
    path("builds/<str:number>/hand-off/signed-sheet/", hand_off_views.signed_sheet, name="signed_sheet"),
    path("builds/<str:number>/hand-off/signed-sheet/add/", hand_off_views.signed_sheet_add, name="signed_sheet_add"),
    path("builds/<str:number>/hand-off/sign/", signing_views.hand_off_sign, name="hand_off_sign"),
    path(
        "builds/<str:number>/hand-off/signatures/<int:pk>/", signing_views.hand_off_signature, name="hand_off_signature"
    ),
    *family.urlpatterns,
]
