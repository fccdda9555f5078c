// What an inquiry's screens read: its record, every claim and every look at the piece, the questions in all languages.
import { useEffect, useState } from "preact/hooks";
import { loadQuestions, type Catalogue, type Question, type Questions } from "../../domain/catalogue.ts";
import { applicable, isLookedAt, type Piece } from "../../domain/checks.ts";
import type { SeenAnswer } from "../../domain/claim_outcome.ts";
import { inquiryId } from "../../domain/ids.ts";
import { type Returns, standing, type Standing } from "../../domain/inquiry.ts";
import type { Rec, Store } from "../../store/store.ts";
import { useLive } from "../../store/live.ts";
import { kept, plain } from "../visit/view.ts";

export interface InquiryView {
  id: string;
  record: Rec | undefined;
  claims: Rec[];
  /** Of every visit to the piece. */
  answers: SeenAnswer[];
}

/** The latest inquiry about a piece, from whichever listing; before there is one, the id it will have. */
export async function readInquiry(store: Store, session: string | null, piece: string): Promise<InquiryView> {
  const [inquiries, claims, visits] = await Promise.all([store.children(piece, "inquiry"), store.children(piece, "claim"), store.children(piece, "visit")]);
  const asked = (one: Rec) => `${one.values["asked"]?.day ?? ""} ${one.id}`;
  const record = inquiries.filter(kept).sort((a, b) => (asked(a) < asked(b) ? 1 : -1))[0];
  const answers = await Promise.all(visits.filter(kept).map((visit) => store.children(visit.id, "answer")));
  return { id: record?.id ?? inquiryId(session ?? "", piece), record, claims: claims.filter(kept), answers: answers.flat().filter(kept).map((one) => ({ ...plain(one), piece }) as SeenAnswer) };
}

export const useInquiry = (session: string | null, piece: string): InquiryView | undefined => useLive((store) => readInquiry(store, session, piece), [session, piece]);

export function useQuestions(): Questions | undefined {
  const [questions, setQuestions] = useState<Questions>();
  useEffect(() => { void loadQuestions().then(setQuestions); }, []);
  return questions;
}

/** Questions about single checks that none of the questions asks, in the form of the others; their ids are those of the checks. */
export function moreQuestions({ more }: Questions, piece: Piece, answers: readonly SeenAnswer[], catalogue: Catalogue): Question[] {
  const seen = new Set(answers.filter(({ result }) => isLookedAt(result)).map(({ check }) => check));
  return applicable(piece, catalogue).filter((check) => more[check.id] && !seen.has(check.id)).map((check) => ({
    id: check.id, rank: Infinity, title: check.title, hint: "", kinds: check.kinds, about: "piece", key: false, fair_not_to_know: true, proof: null, say: more[check.id]!,
  }));
}

/** The checks of a piece that a question answers. */
export function checksOf(question: Question, piece: Piece, catalogue: Catalogue) {
  return question.about === "sale" ? [] : applicable(piece, catalogue).filter((check) => check.question_rank === question.rank || check.id === question.id);
}

export interface AskedRow { question: Question; key: boolean; standing: Standing }

/** How each asked question stands, in the order it was asked. */
export function askedRows(view: InquiryView, piece: Piece, catalogue: Catalogue, data: Questions): AskedRow[] {
  const questions = [...data.questions, ...moreQuestions(data, piece, [], catalogue)];
  const claims = view.claims.map(plain);
  const returns = (view.record?.values["returns"] as Returns | null | undefined) ?? null;
  return ((view.record?.values["asked"]?.questions ?? []) as string[]).flatMap((id) => {
    const question = questions.find((one) => one.id === id);
    if (!question) return [];
    const checks = checksOf(question, piece, catalogue).map((check) => check.id);
    return [{ question, key: question.key, standing: standing(question, checks, claims, returns, catalogue) }];
  });
}

